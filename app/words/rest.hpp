// The sentences of Rest & repot: what is due, the pots by stage, the year in the house.
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
  // --- what is due
  std::string_view due_second = "{} due, {} overdue, {} within 8 weeks";
  std::string_view due_second_none = "{} due, {} within 8 weeks";
  std::string_view due_second_phone = "{} due, {} overdue";
  std::string_view due_second_phone_none = "{} due";
  std::string_view show_due = "Due now {}";
  std::string_view show_due_short = "Due now";
  std::string_view show_ahead = "8 weeks {}";
  std::string_view show_ahead_short = "8 weeks";
  std::string_view show_step = "One step";
  std::string_view show_step_only = "{} {}";  // "Dry off", how many
  std::string_view show_all_steps = "All steps";
  std::string_view by_stage = "By stage";
  std::string_view plans = "Growing plans";
  std::string_view plans_short = "Plans";
  std::string_view calendar = "Calendar";
  std::string_view print = "Print";
  std::string_view written_in = "In {}: {}";  // folder; the name of the file that was written is filled in later
  std::string_view calendar_part = "due";
  std::string_view work_list_part = "week {}";
  std::string_view nowhere_to_write =
      "There is nowhere to write to: put in a stick, or open the book from a folder that can be written into.";
  std::string_view overdue = "overdue";
  std::string_view due = "due";
  std::string_view in_week = "week {}";
  // Its window, in days.
  std::string_view window_open = "Since {}, until {}";  // days
  std::string_view window_ahead = "From {} to {}";
  std::string_view window_late = "Was to be done {} to {}";
  std::string_view act_many = "{} {}";  // act, how many pots
  // "26A031-K/2: started" of one; of several "26A031-K: 9 pots started".
  std::string_view done_uncover = "uncovered";
  std::string_view done_look = "looked at";
  std::string_view done_dry_off = "dried off";
  std::string_view done_start = "started";
  std::string_view done_repot = "repotted";
  std::string_view done_water = "watered";
  std::string_view done_feed = "fed";
  std::string_view kept_done = "{}: {}";
  std::string_view kept_done_many = "{}: {} {}";
  std::string_view waiting = "waiting to be potted";
  // Nothing there.
  std::string_view none_due_next = "Nothing is due. Next: {} {}, {}.";  // act, clone, day
  std::string_view none_due = "Nothing is due, and no growing plan says what comes next.";
  std::string_view none_ahead = "Nothing opens within 8 weeks.";
  std::string_view none_of_step = "Nothing of this step here.";
  std::string_view see_weeks = "See 8 weeks";
  std::string_view see_plans = "Growing plans";
  std::string_view without_plan = "No growing plan for {}: {}";  // "Lilium, scooping", "3 pots"
  std::string_view without_plan_more = "No growing plan for {}: {}, and {} more";
  std::string_view plan_of = "{}, {}";  // genus, method
  std::string_view plan_unread = "The plan of {} cannot be read";
  std::string_view plan_missing = "Plan {}, which {} follows, is not on this device";
  // Weeks ahead.
  std::string_view weeks_title = "Weeks ahead";
  std::string_view weeks_more = "+{}";
  std::string_view legend_start = "start";
  std::string_view legend_dry_off = "dry off";
  std::string_view legend_repot = "repot";
  std::string_view legend_unpot = "unpot";
  std::string_view legend_other = "other";
  std::string_view legend_growing = "growing";
  std::string_view legend_resting = "resting";
  std::string_view legend_today = "today";
  // Putting off.
  std::string_view put_off = "In a week";
  std::string_view put_off_title = "Put off: {} {}";  // act, tag
  std::string_view put_off_until = "When again?";
  std::string_view weeks_1 = "In a week";
  std::string_view weeks_2 = "2 weeks";
  std::string_view weeks_4 = "4 weeks";
  std::string_view not_this_time = "Not this time";
  std::string_view put_off_why = "Why? The reason keeps it.";
  std::array<std::string_view, 5> reasons{"Still growing", "Leaves still green", "No room yet", "Too cold",
                                          "Helper away"};
  std::string_view reason_other = "Another reason";
  std::string_view reason_type = "why it is put off";
  std::string_view reason_keep = "Put it off";
  std::string_view kept_put_off = "{}: {} again {}";             // label, act, day
  std::string_view kept_put_off_many = "{}: {} of {} again {}";  // label, act, "9 pots", day
  std::string_view kept_refused = "{}: {} not this time";
  std::string_view kept_refused_many = "{}: {} of {} not this time";
  std::string_view sure_dry_off =
      "{} would not rest this season, and may not flower in the next. Leave the drying off out all the same?";
  std::string_view sure_start =
      "{} would stay dry: a bulb that is never started shrivels away. Leave the start out all the same?";
  std::string_view sure_repot =
      "{} would stay in the old compost until the plan asks again. Leave the repotting out all the same?";
  // Beside the list, and on the start screen.
  std::string_view due_first = "Due first";
  std::string_view due_all = "All {}";
  std::string_view year_title = "The year in the house";
  std::string_view quarter_line = "due";
  std::string_view quarter_line_overdue = "due, {} of them overdue";
  std::string_view quarter_line_phone = "{} overdue";
  // On the card of a pot.
  std::string_view at_stage_since = "{} since {}";  // "Resting", day
  std::string_view watered_at_rest = "Watered {}, while it rests: the plan keeps it dry until it is started.";
  std::string_view started_early = "Started {}, {} before its rest was over by the plan.";
  std::string_view nobody_enters = "Nobody enters before {}, in {}: {}";  // time, "3 h 20 min", product
  std::string_view hours_minutes = "{} h {} min";
  std::string_view only_minutes = "{} min";
  std::string_view days_hours = "{} days {} h";
  std::string_view trace = "What it touched";
  std::string_view health = "Health";
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
