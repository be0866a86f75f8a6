// What an entry says, in words a person reads: one line for a list, and line by line for "what was this?".
// Pure: nothing here asks the book but by what it is given.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "shared/entry.hpp"

namespace motherbulb {

// What words of a fact may need besides the fact. All may be left empty.
struct FactContext {
  Method method = Method::growing_on;                     // of its batch: pieces have a name by it
  std::function<std::string(const BatchId&)> batch_name;  // label or mark of another batch
  std::function<std::string(const FactKey&)> fact_name;   // of what a correction is about
};

// "8 sections potted, bench 2, no. 3". Never empty, for every kind and what a newer version wrote.
[[nodiscard]] std::string fact_words(const Payload& fact, const FactContext& context);

// What it is about, and what is said of it: {"Counts", "3 of 2–4 cm, 5 of 4–6 cm"}. Only what was said.
struct SaidOf {
  std::string about, said;
};
[[nodiscard]] std::vector<SaidOf> fact_details(const Payload& fact, const FactContext& context);

// "3 of 2–4 cm, 5 of 4–6 cm"; with causes where they are said: "1 to rot". Nothing where there are no lines.
[[nodiscard]] std::string count_lines_words(const Lines& lines, bool causes);
// "12.50", as the grower counts money; "−3.00".
[[nodiscard]] std::string money_words(std::int64_t cents);
[[nodiscard]] std::string_view name_of(Moisture moisture);
[[nodiscard]] std::string_view name_of(TestResult result);

}  // namespace motherbulb
