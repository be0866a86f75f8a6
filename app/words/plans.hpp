// Sentences of the growing plans: the list, one plan, its editor. {} are filled by say().
#pragma once

#include <array>
#include <string_view>

#include "core/plans/growing_plan.hpp"

namespace motherbulb {

struct PlansWords {
  std::string_view title = "Growing plans";
  std::string_view second = "{}, {} of them in use";
  std::string_view plan = "plan", plans = "plans", batch = "batch", batches = "batches", step = "step", steps = "steps";
  std::string_view name = "{}, {}";        // genus, method
  std::string_view copy_name = "{} ({})";  // its own name, genus and method
  std::string_view of_bulbs = "Bulbs growing on";
  std::string_view row = "{}, as it came with the program";
  std::string_view row_mine = "{}, changed {} by {}";
  std::string_view row_mine_nobody = "{}, changed {}";
  std::string_view no_plan = "No growing plan for {}: {}. Open a plan of the genus and copy it.";
  std::string_view missing = "{} follows the plan {}, which this device does not have; merge the parcel it came with.";
  std::string_view not_read = "A plan in the book cannot be read: {}";

  std::string_view shipped = "as it came with the program";
  std::string_view mine = "changed {} by {}";
  std::string_view mine_nobody = "changed {}";
  std::string_view followed = "{} follow it";
  std::string_view followed_one = "{} follows it";
  std::string_view name_and_line = "{}; {}";  // "chipping; as it came with the program; 3 batches follow it"
  std::string_view gone = "This plan is not in the book any more.";

  std::array<std::string_view, step_count> after{"the cut or the beginning",
                                                 "potting",
                                                 "covering",
                                                 "uncovering",
                                                 "a look",
                                                 "unpotting",
                                                 "grading",
                                                 "drying off",
                                                 "the start",
                                                 "repotting",
                                                 "watering",
                                                 "feeding"};
  std::array<std::string_view, 3> of{"pieces", "bulbs", "what waits"};
  std::string_view and_another = "{}, {}", or_last = "{} or {}";  // of events that it counts from
  std::string_view row_window = "{} to {} after {}";
  std::string_view row_season = "weeks {} to {}, {}";
  std::string_view row_season_south = "weeks {} to {} (in the north {} to {}), {}";
  std::string_view row_after = "after {}";
  std::string_view row_window_least = "{} or more after {}";
  std::string_view row_every = "{}; then every {}";
  std::string_view row_seen = "{}; {}";
  std::string_view source_of = "{}: {}";  // Opens: …
  std::string_view source_mine = "set here, by the grower";
  std::string_view source_common = "common practice";

  std::string_view opens = "Opens", closes = "Closes", every = "Then every", from_week = "From week",
                   to_week = "To week";
  std::string_view week_of = "week {}";
  std::string_view must_stay = "This step stays: it must never be missed.";
  std::string_view leave_out = "Leave this step out";
  std::string_view add = "Add a step";
  std::string_view adding = "Which step?";
  std::string_view moves_none = "Nothing that stands now moves.";
  std::string_view moves = "If those that follow it now follow the change, {} move:";
  std::string_view move_line = "{}: {} opens {} instead of {}";
  std::string_view move_gone = "{}: {} is no longer due";
  std::string_view move_new = "{}: {} opens {}";
  std::string_view move_window = "{}: {} closes on another day";
  std::string_view pot = "pot", pots = "pots";
  std::string_view keep_new = "For batches begun from now on";
  std::string_view keep_all = "Also for the {} that follow it";
  std::string_view give_up = "Leave it as it was";
  std::string_view kept_new = "{}: changed for new batches";
  std::string_view kept_all = "{}: changed for all";
  std::string_view copy = "Copy under a name";
  std::string_view copy_title = "Name of the copy";
  std::string_view copy_hint = "such as: cool house";
  std::string_view copy_keep = "Make the copy";
  std::string_view copied = "Copy made: {}";
  std::string_view choose = "Batches that follow it";
  std::string_view choose_title = "Tap the batches that shall follow it";
  std::string_view choose_keep = "{} follow it from now on";
  std::string_view choose_none = "No batch of {} is in the book.";
  std::string_view chosen = "{}: {} follow it";
  std::string_view to_shipped = "Back to how it came";
  std::string_view fault_title = "This cannot be kept";
};
[[nodiscard]] const PlansWords& plans_words();

}  // namespace motherbulb
