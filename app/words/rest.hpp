// The sentences of Rest & repot.
#pragma once

#include <array>
#include <string_view>

#include "core/state.hpp"

namespace motherbulb {

struct RestWords {
  std::string_view title = "Rest & repot";
  std::string_view second = "{} resting or drying off";  // "59 pots"
  std::string_view empty = "No pot is filled. What is potted up shows here.";
  std::string_view none_resting = "No pot is drying off or resting.";
  std::string_view none_started = "No pot was started and waits to be repotted.";
  std::string_view none_growing = "No pot of bulbs is growing.";
  // Filters: pots at a stage.
  std::string_view show_resting = "Resting {}";
  std::string_view show_started = "Started {}";
  std::string_view show_growing = "Growing {}";
  // Rows.
  std::string_view dried_off_ago = "Dried off {} ago";
  std::string_view started_ago = "Started {} ago";
  std::string_view growing_for = "Growing for {}";
  std::string_view dried_off_on = "Dried off {}";  // a day
  std::string_view started_on = "Started {}";
  std::string_view growing_since = "Growing since {}";
  std::string_view row_more = "{}, {}";  // what, and where or "9 pots"
  // Acts: of one pot, and of so many.
  std::string_view start = "Start";
  std::string_view start_many = "Start {}";
  std::string_view dry_off = "Dry off";
  std::string_view dry_off_many = "Dry off {}";
  std::string_view repot = "Repot";
  std::string_view repot_many = "Repot {}";
  std::string_view kept_started = "{}: started";
  std::string_view kept_started_many = "{}: {} started";  // batch, "9 pots"
  std::string_view kept_dried_off = "{}: dried off";
  std::string_view kept_dried_off_many = "{}: {} dried off";
  std::string_view kept_repotted = "{}: repotted";
  std::string_view kept_repotted_many = "{}: {} repotted";
  // Beside the list.
  std::string_view house_title = "The house in its year";
  std::string_view entry_by = "{}, {}";  // what, helper
  std::string_view story = "Whole story";
  std::string_view work = "Work on it";
  std::string_view gone = "{} is not a filled pot of this book any more.";
  std::string_view choose = "Tap a pot in the list: its last entries stand here.";
  // What an entry was, by the number of its kind.
  std::array<std::string_view, last_known_kind + 1> kinds{"from a newer version",
                                                          "begun",
                                                          "potted",
                                                          "covered",
                                                          "uncovered",
                                                          "looked",
                                                          "watered",
                                                          "fed",
                                                          "treated",
                                                          "moved",
                                                          "lost",
                                                          "damage seen",
                                                          "unpotted",
                                                          "graded",
                                                          "divided",
                                                          "dried off",
                                                          "started",
                                                          "repotted",
                                                          "flowered",
                                                          "sold",
                                                          "given",
                                                          "discarded",
                                                          "tested",
                                                          "put on hold",
                                                          "cleared",
                                                          "combined",
                                                          "note",
                                                          "hours worked",
                                                          "money",
                                                          "postponed",
                                                          "plan edited",
                                                          "grade bounds",
                                                          "bench laid out",
                                                          "clone renamed",
                                                          "device named",
                                                          "clock measured",
                                                          "corrected",
                                                          "settled",
                                                          "treatment"};
};
[[nodiscard]] const RestWords& rest_words();

}  // namespace motherbulb
