// What the list of growing plans and the editor of one both say.
#pragma once

#include <string>

#include "core/plans/plan_book.hpp"

namespace motherbulb {

[[nodiscard]] std::string method_of_plan(Method method);           // "Chipping"; "Bulbs growing on"
[[nodiscard]] std::string plan_words_of(const GrowingPlan& plan);  // "Hippeastrum, Chipping"; "Cool house (Hippea…)"
// The same in two: the genus or a copy's own name, and what is left to say.
struct PlanName {
  std::string first, second;
};
[[nodiscard]] PlanName plan_name_of(const GrowingPlan& plan);
[[nodiscard]] std::string changed_words(const PlanVersion& version, Day today);  // "7 steps, changed 12 March by Ines"
[[nodiscard]] std::int32_t week_here(std::int32_t week, bool south);             // a week of the north as it falls here
[[nodiscard]] std::string plan_window_words(const PlanStep& step, bool south);   // "8 to 10 weeks after drying off"

}  // namespace motherbulb
