// What the list of growing plans and the editor of one both say.
#pragma once

#include <string>

#include "core/plans/plan_book.hpp"

namespace motherbulb {

[[nodiscard]] std::string method_of_plan(Method method);           // "chipping"; "bulbs growing on"
[[nodiscard]] std::string plan_words_of(const GrowingPlan& plan);  // "Hippeastrum, chipping", or a copy's own name
[[nodiscard]] std::string changed_words(const PlanVersion& version, Day today);  // "7 steps, changed 12 March by Ines"

}  // namespace motherbulb
