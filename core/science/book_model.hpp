// A clone of the book as the mathematics sees it on a day: what stands, what grows, what was cut in the year before,
// and the model made of it (growth_model.hpp). The only place where sections 2 to 5 of the mathematics ask the book.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "core/logbook.hpp"
#include "core/science/growth_model.hpp"
#include "shared/result.hpp"

namespace motherbulb {

// What that way of cutting gives of the clone, in these classes; `share_cut` of the answer is not looked at. None: the
// published values are taken.
using CutGiver =
    std::function<std::optional<CutGives>(Method method, std::int32_t sections, const std::vector<Grade>&)>;

// What the book tells of a day, of all clones: to be asked once for many of them.
struct BookOnDay {
  Day on;
  GrowthRecords records;               // up to the end of that day
  std::vector<BatchPots> stands;       // at the end of that day
  std::vector<BatchPots> year_before;  // at the end of the day 365 days before
};
Result<BookOnDay> book_on_day(const Logbook& book, Day on);
// The same where the book's facts (past_facts) are at hand already.
BookOnDay book_on_day(const Logbook& book, Day on, std::vector<PastFact> facts);

// Starting values of a genus; of one that nothing is published of those of Narcissus, and a sentence in `assumed`.
StartingValues starting_values_or_assumed(const std::string& genus, std::vector<std::string>& assumed);

// What that way of cutting gives by the published values; where there are none, one bulblet a section, marked.
CutGives published_or_assumed(const StartingValues& start, Method method, std::int32_t sections,
                              const std::vector<Grade>& grades);

// What that way of cutting gives of the clone: by `gives` where that knows, else as published or assumed.
CutGives what_gives(const GrowthInput& input, const CutGiver& gives, Method method, std::int32_t sections);

// The clone on that day, as it is cut now: of each class the share of mothers cut in the 365 days before among the
// bulbs that stood a year before; where more were cut than stood, among those cut and those that stand now. Refused
// where no batch of that clone had begun by then.
Result<GrowthInput> growth_input_of(const Logbook& book, const BookOnDay& known, const std::string& clone,
                                    const CutGiver& gives = {});

// All of it at once.
Result<GrowthModel> growth_model_of(const Logbook& book, const std::string& clone, Day on, const CutGiver& gives = {});

}  // namespace motherbulb
