// What comes of one mother: cut in a way, or left whole. So that ways are compared by bulbs that can be sold, and not
// by bulblets of any size.
#pragma once

#include <cstddef>
#include <vector>

#include "core/science/growth_model.hpp"

namespace motherbulb {

// Saleable bulbs in the mean, after season 1, 2 ... `seasons`, of one mother of that class (of `growth.classes`) that
// is cut this way now. Nothing that comes of her is cut again; losses, natural daughters and bad events are taken as
// `growth` has them. `way` has as many classes as `growth`.
std::vector<double> saleable_after_cut(const GrowthModel& growth, const CutGives& way, std::size_t mother,
                                       std::size_t seasons);

// The same of a mother that is left whole.
std::vector<double> saleable_left_whole(const GrowthModel& growth, std::size_t mother, std::size_t seasons);

}  // namespace motherbulb
