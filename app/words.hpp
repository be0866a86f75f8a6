// Every sentence that a person reads in the window, in one table. {} are filled by say().
#pragma once

#include <fmt/format.h>

#include <array>
#include <cstdint>
#include <string>
#include <string_view>

#include "core/state.hpp"
#include "shared/day.hpp"
#include "shared/result.hpp"
#include "shared/units.hpp"

namespace motherbulb {

struct Words {
  // The bar, and words used everywhere.
  std::string_view bar_start = "Start";
  std::string_view bar_unpot = "Unpot";
  std::string_view bar_pots = "Pots";
  std::string_view bar_due = "Due";
  std::string_view bar_merge = "Merge";
  std::string_view undo = "Undo";
  std::string_view next = "Next";
  std::string_view later = "Later";
  std::string_view done = "Done";
  std::string_view no_name = "no name given";
  std::string_view clone_quoted = "‘{}’";
  std::string_view clone_unknown = "clone not known yet";
  std::string_view not_kept = "Not kept";
  std::string_view not_merged = "Not merged: nothing was changed";
  std::string_view why_undone = "undone where it was made";
  std::string_view fonts_missing = "Letters are plain";
  std::string_view fonts_missing_line =
      "The font file {} is missing. Everything works; put it back beside the program, or build anew.";
  std::string_view undone = "Undone: {}";
  std::string_view keeping = "Keeping …";
  std::string_view all_kept = "All kept, {}";
  std::string_view newer = "from a newer version";

  std::string_view cancel = "Cancel";
  std::string_view key_space = "Space";
  std::string_view merging = "Merging the books";
  std::string_view work_percent = "{} % done";
  std::string_view work_stop = "Stop, and change nothing";

  // Who and when, on every screen that writes something down.
  std::string_view by_now = "{}, now";  // helper
  std::string_view by_then = "{}, {}";  // helper, when
  std::string_view then_at = "{} {}";   // day, time of day
  std::string_view asked_title = "Is that right?";
  std::string_view asked_yes = "Yes, keep it";
  std::string_view asked_no = "Look again";
  std::string_view guarded_title = "Stop";
  std::string_view guarded_why = "It can be done by saying why:";
  std::string_view guarded_other = "Another reason";
  std::string_view guarded_hint = "why it is done all the same";
  std::string_view guarded_keep = "Do it all the same";
  std::array<std::string_view, 3> guarded_reasons{"Tested clean since", "Kept apart, to save the clone",
                                                  "Looked at: it is healthy"};
  std::array<std::string_view, 3> entering_reasons{"The label allows it", "Protective gear is worn", "Aired, and dry"};

  // What became of a pot's pieces and bulbs.
  std::string_view holds_at = "{}, {}";   // contents, place
  std::string_view count_word = "{} {}";  // 2, "rot"
  std::string_view b_growing = "{} growing";
  std::string_view b_taken = "{} taken out";
  std::string_view b_sold = "{} sold";
  std::string_view b_cut = "{} cut";
  std::string_view b_given = "{} given";
  std::string_view b_discarded = "{} discarded";

  // Start.
  std::string_view day_title = "{} {} {}";  // weekday, day, month
  std::string_view who_is_here = "Who is here?";
  std::string_view week = "week";
  std::string_view quarter_unpot = "Unpot & count";
  std::string_view quarter_unpot_line = "pots of cut bulbs";
  std::string_view quarter_unpot_line_one = "pot of cut bulbs";
  std::string_view quarter_pests = "Pests & damage";
  std::string_view quarter_pests_line = "pots with notes";
  std::string_view quarter_pests_line_one = "pot with notes";
  std::string_view quarter_pests_hold = "pots with notes, {} on hold";
  std::string_view quarter_rest = "Rest & repot";
  std::string_view quarter_rest_line = "pots resting or drying off";
  std::string_view quarter_rest_line_one = "pot resting or drying off";
  std::string_view quarter_merge = "Merge the day";
  std::string_view quarter_merge_waits = "books wait";
  std::string_view quarter_merge_waits_one = "book waits";
  std::string_view quarter_merge_settle = "to settle";
  std::string_view quarter_merge_none = "no book waits";
  std::string_view link_outlook = "Outlook";
  std::string_view link_clones = "Clones";
  std::string_view link_cutting = "Cutting";
  std::string_view link_labels = "Labels";
  std::string_view start_list = "What stands in the house";
  std::string_view start_list_all = "All {}";
  std::string_view start_list_line = "{} in {}";

  // Who is here.
  std::string_view who_title = "Who is here?";
  std::string_view who_second = "What you tap is kept under your name";
  std::string_view who_other = "Another name";
  std::string_view who_type = "Type the name, then keep it";
  std::string_view who_keep = "I am {}";
  std::string_view who_keep_empty = "Keep";
  std::string_view who_none = "Nobody has written in this book yet.";

  // Unpot & count.
  std::string_view unpot_title = "Unpot & count";
  std::string_view unpot_choose = "Choose the batch, then its pot";
  std::string_view unpot_choose_pot = "Which pot is on the bench?";
  std::string_view unpot_cut = "Cut bulbs {}";
  std::string_view unpot_bulbs = "Bulbs {}";
  std::string_view method_into = "{} into {}";        // method, sections
  std::string_view batch_begun = "begun {}, {} ago";  // day, weeks
  std::string_view batch_mothers = "{} of {} cm";     // mothers, grade
  std::string_view batch_medium = "in {}";
  std::string_view batch_line = "{}, {} ago, {}";  // method, weeks, what it holds
  std::string_view unpot_also_bulbs = "Bulbs in pots";
  std::string_view unpot_also_cut = "Cut bulbs";
  std::string_view unpot_none = "No pot is filled. What is potted up shows here.";
  std::string_view unpot_none_kind = "No pot of this kind is filled.";
  std::string_view pot_of_pots = "Pot {} of {}";
  std::string_view size_round = "Size round, cm";
  std::string_view under_size = "under {}";
  std::string_view no_size = "no size";
  std::string_view each_handful = "Each handful";
  std::string_view each_handful_took = "Each handful as you took it";
  std::string_view last_handful = "last";
  std::string_view handful_size = "{} cm";
  std::string_view none_yet = "Tap what you hold";
  std::string_view bulblets = "bulblets";
  std::string_view bulblet = "bulblet";
  std::string_view bulbs = "bulbs";
  std::string_view bulb = "bulb";
  std::string_view a_section = "{} a section";
  std::string_view a_piece = "{} a piece";
  std::string_view was_in = "{} went in";
  std::string_view next_size = "Next size";
  std::string_view keep_next = "Keep {}, next pot";
  std::string_view keep_next_long = "Keep {} and take the next pot";
  std::string_view keep_last = "Keep {}, last pot";
  std::string_view ask_nothing = "Nothing is counted out of this pot. Is it empty?";
  std::string_view keep_none = "Keep: nothing formed";
  std::string_view keep_no_bulbs = "Keep: none left";
  std::string_view kept_pot = "Pot {}: {} kept";
  std::string_view alive_word = "{} alive";
  std::string_view section_nth = "Section {}: {}";
  std::string_view section_unsaid = "not said";
  std::string_view section_two_together = "two together";
  std::string_view sections_note = "By section: {}";
  std::string_view sections_title = "What did this section bear?";
  std::string_view sections_open = "Section by section";
  std::string_view sections_nothing = "Nothing: why?";
  std::string_view sections_alive = "alive";
  std::string_view sections_two = "2 together";
  std::string_view sections_two_short = "1+1";
  std::string_view sections_sum = "{} by section, {} counted";
  std::string_view one_more_dead = "One more dead: of what?";
  std::string_view one_more_lost = "One more lost: to what?";
  std::string_view one_fewer = "One fewer";
  std::string_view all_alive = "all alive";
  std::string_view none_lost = "none lost";
  std::string_view there_word = "{} there";
  std::string_view increase_word = "{} more";
  std::string_view open_word = "{} open";
  std::string_view in_word = "{} in";
  std::string_view sure_title = "Is that right?";
  std::string_view sure_yes = "Yes, keep {}";
  std::string_view sure_no = "Look again";
  std::string_view pot_held = "On hold: {}";

  // Merge the day.
  std::string_view merge_title = "Merge the day";
  std::string_view merge_waiting = "{} beside this book";
  std::string_view merge_choose = "Choose a file";
  std::string_view merge_nothing =
      "No other book is here. Bring a parcel on a stick, or drop a parcel or a backup on this window.";
  std::string_view merge_look_again = "Look again";
  std::string_view merge_into_one = "Into one book";
  std::string_view merged_at = "Merged, {}";
  std::string_view this_device = "this device";
  std::string_view written = "written";
  std::string_view new_word = "new";
  std::string_view known_word = "{} known";
  std::string_view here_word = "{} in this book";
  std::string_view parcel_word = "A parcel";
  std::string_view damaged_word = "cannot be read";
  std::string_view others = "{} more";
  std::string_view book_before = "This book, {}";
  std::string_view book_after = "One book, {}";
  std::string_view digest_now = "Shows {}";
  std::string_view digest_same = "Same on all when they show {}";
  std::string_view digest_same_short = "Same on all: {}";
  std::string_view merge_act = "Merge {}: {} new";
  std::string_view merge_kept = "{} merged, {} more to settle";
  std::string_view brought_title = "What the day brought";
  std::string_view brought_title_waiting = "What they bring";
  std::string_view brought_unpotted = "pots unpotted";
  std::string_view brought_bulblets = "bulbs counted";
  std::string_view brought_lost = "lost";
  std::string_view brought_watered = "watered";
  std::string_view brought_damage = "damage seen";
  std::string_view brought_moved = "moved";
  std::string_view settle_title = "To settle";
  std::string_view settle_count = "{} to settle";
  std::string_view settle_none = "Nothing to settle.";
  std::string_view settle_put_off = "{} put off until later";
  std::string_view settle_show_again = "Show them";
  std::string_view take_all = "Take all proposals";
  std::string_view settled_kept = "{}: settled";
  std::string_view settled_all_kept = "{} settled";
  std::string_view table_waits = "{} is a table";
  std::string_view table_waits_line = "Its facts come in all together; or none, and what is wrong is said.";
  std::string_view table_waits_more = "{} is a table, and {} more wait";
  std::string_view table_more = "And {} more";
  std::string_view table_take = "Take it in";
  std::string_view table_taking = "Taking in {}";
  std::string_view table_taking_back = "Taking back {}";
  std::string_view table_taken = "{} new, {} known already";
  std::string_view table_taken_line = "What came in by mistake goes out again as it came.";
  std::string_view table_take_back = "Take it back";
  std::string_view table_taken_back = "{} taken back";
  std::string_view table_taken_back_line = "It can come in again.";
  std::string_view table_not_taken_back = "{}: nothing was taken back";
  std::string_view table_remarks = "Taken in, and worth a look";
  std::string_view cannot_read = "{} cannot be read";
  std::string_view backup_reading = "Reading {}";
  std::string_view not_taken_in = "{}: nothing was taken in";
  std::string_view stopped_by_you = "You stopped it";
  std::string_view backup_word = "a backup";
  std::string_view backup_is_open_book = "It is the book that is open here";

  // Matters.
  std::string_view take_number = "Take {}";
  std::string_view take_this = "Take this";
  std::string_view both_right = "Both right";
  std::string_view side_one = "One";
  std::string_view side_other = "The other";
  std::string_view side_leave = "As it is";
  std::string_view side_book = "Explained";
  std::string_view side_shift = "Shifted";
  std::string_view side_as_written = "As written";
  std::string_view side_name = "Named";
  std::string_view act_leave = "Leave";
  std::string_view act_book = "Book it";
  std::string_view act_shift = "Shift";
  std::string_view act_name = "Take it";
  std::string_view act_stands_here = "It is here";
  std::string_view act_this_name = "This name";
  std::string_view act_unpotting_counts = "It was empty";
  std::string_view act_work_counts = "It stood on";

  // Lists of what comes later.
  std::string_view labels_title = "Labels";
  std::string_view labels_second = "{} with a label";
  std::string_view labels_later =
      "Printing labels comes with a later version. These are the labels that the book knows.";
  std::string_view labels_none = "No batch has a label yet.";
};

[[nodiscard]] const Words& words();

template <class... Args>
[[nodiscard]] std::string say(std::string_view pattern, const Args&... args) {
  return fmt::format(fmt::runtime(pattern), args...);
}

// "1 pot", "2 pots", "3,489 entries".
[[nodiscard]] std::string counted(std::int64_t count, std::string_view one, std::string_view many);
[[nodiscard]] std::string grouped(std::int64_t count);  // 3,489
[[nodiscard]] std::string weekday_name(Day day);
[[nodiscard]] std::string month_name(std::int32_t month);
[[nodiscard]] std::string day_and_month(Day day);           // 12 November
[[nodiscard]] std::string day_near(Day day, Day today);     // today, yesterday, 12 November, 12 November 2024
[[nodiscard]] std::string clock_time(const When& when);     // 10:42
[[nodiscard]] std::string weeks_between(Day from, Day to);  // "40 weeks", "5 days"
[[nodiscard]] std::string_view name_of(Stage stage);
[[nodiscard]] std::string_view name_of(Cause cause);
[[nodiscard]] std::string_view name_of(Method method);
[[nodiscard]] std::string_view title_of(MatterKind kind);
[[nodiscard]] std::string grade_words(Grade grade);  // "4–6", "under 2", "10+", "no size"
// One sentence, with the further faults behind it.
[[nodiscard]] std::string sentence_of(const Error& error);

}  // namespace motherbulb
