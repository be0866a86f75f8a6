// The sentences of work on pots: what can be done, and what each piece of work asks.
#pragma once

#include <array>
#include <string_view>

#include "shared/entry.hpp"

namespace motherbulb {

// One piece of work: on its tile, over its form, and once it is kept.
struct JobWords {
  std::string_view tile, title, keep, done;
};

struct CareWords {
  std::string_view title = "Work";
  std::string_view several = "{}: {}";  // "bench 2", "24 pots"
  std::string_view slip = "{}: {}";     // "Pot 3", "watered"
  std::string_view slip_pot = "Pot {}";
  std::string_view pot = "pot";
  std::string_view pots = "pots";
  std::string_view clone = "clone";
  std::string_view clones = "clones";
  std::string_view joined = "{}, {}";  // one and another
  std::string_view waits = "{} waiting unpotted";
  std::string_view stage_count = "{} {}";  // 18, "growing"
  std::string_view last_done = "Done last";
  std::string_view last_line = "{}, {}";  // what, when
  std::string_view nothing_done = "Nothing is written about it yet.";
  std::string_view which = "These pots";
  std::string_view none = "No pot is chosen. Tap one on its bench, or find it by its label.";
  std::string_view go_to_benches = "To the benches";
  std::string_view story = "Whole story";
  std::string_view gone_one = "{} was emptied by {}, {}, while it was open here.";
  std::string_view gone_one_unknown = "{} is not a filled pot of this book any more.";
  std::string_view gone_several = "{} of these were emptied meanwhile; the work is kept for the others.";
  std::string_view gone_all = "All of these pots were emptied meanwhile.";
  std::string_view gone_keep = "No pot to keep it for";
  std::string_view gone_draft = "What you entered waits here until you leave.";
  std::string_view on_hold = "on hold";
  std::string_view held_why = "On hold: {}";

  std::string_view group_pot = "The pot and its season";
  std::string_view group_bulbs = "Its bulbs";
  std::string_view keep_job = "Keep: {}, {}";  // "watered", "24 pots"
  std::string_view keep_one = "Keep: {}";
  std::string_view choose_job = "Choose what was done";

  JobWords watered{"Water", "Water", "Keep: watered", "watered"};
  JobWords fed{"Feed", "Feed", "Keep: fed", "fed"};
  JobWords treated{"Treat", "Treat", "Keep: treated", "treated"};
  JobWords covered{"Cover", "Cover", "Keep: covered", "covered"};
  JobWords uncovered{"Uncover", "Uncover", "Keep: uncovered", "uncovered"};
  JobWords moved{"Move", "Move to", "Keep: moved", "moved"};
  JobWords looked{"Look", "What do you see?", "Keep: looked", "looked"};
  JobWords potted{"Pot up", "Pot up what waits", "Pot up {}", "potted"};
  JobWords note{"Note", "Note", "Keep the note", "noted"};
  JobWords started{"Start", "Start", "Keep: started", "started"};
  JobWords dried_off{"Dry off", "Dry off", "Keep: dried off", "dried off"};
  JobWords repotted{"Repot", "Repot the same bulbs", "Keep: repotted", "repotted"};
  JobWords flowered{"Flower", "In flower", "Keep: flowered", "flowered"};
  JobWords sold{"Sell", "Sold", "Keep: {} sold", "sold"};
  JobWords given{"Give", "Given away", "Keep: {} given", "given"};
  JobWords discarded{"Discard", "Discarded", "Keep: {} discarded", "discarded"};
  JobWords lost{"Lose", "Lost", "Keep: {} lost", "lost"};
  JobWords tested{"Test", "Test", "Keep the test", "tested"};
  JobWords held{"Hold", "Put on hold", "Put on hold", "on hold"};
  JobWords cleared{"Clear", "Clear the hold", "Clear the hold", "hold cleared"};
  JobWords combined{"Combine", "Combine what waits", "Combine {}", "combined"};
  JobWords split{"Split", "Split off a batch", "Split off {}", "split off"};

  std::string_view type_it = "Take it";
  std::string_view other = "Other";
  std::string_view pad_done = "Done";

  // Treat.
  std::string_view product = "Product, by its label name";
  std::string_view product_empty = "Type the name";
  std::string_view last_used = "Used last";
  std::string_view registration = "Registration number, from the label";
  std::string_view amount = "Amount used in all";
  std::string_view amount_empty = "not said";
  std::string_view dose = "Dose, as it was mixed";
  std::string_view dose_empty = "not said";
  std::string_view area = "Area, or how many pots";
  std::string_view area_empty = "not said";
  std::string_view against = "Against what?";
  std::string_view against_other = "Something else";
  std::string_view against_typed = "Type what it is against";
  std::string_view licence = "Your licence, where needed";
  std::string_view not_said = "not said";
  std::string_view re_entry = "Nobody in for how many hours? Read the label.";
  std::string_view hours_typed = "Hours";
  std::string_view slip_no_entry = "{}; nobody in before {}";  // "Pot 3: treated", "today 21:07"
  std::string_view caution =
      "By its label only: gloves, air, no eating. Local rules and a licensed person come before this book.";
  std::string_view keep_needs_product = "Name the product";

  // Places.
  std::string_view which_bench = "Which bench?";
  std::string_view where = "Where does it stand?";
  std::string_view where_optional = "A new place, if it has one";
  std::string_view other_place = "Another place";
  std::string_view place_typed = "Type the place";
  std::string_view position = "Position";
  std::string_view position_from = "First position";
  std::string_view position_empty = "none";
  std::string_view positions = "Positions on it";
  std::string_view positions_kept = "Kept";
  std::string_view positions_counted = "Counted up";
  std::string_view positions_none = "None";
  std::string_view keep_needs_place = "Choose a place";

  // Look.
  std::string_view moisture = "The medium is";
  std::string_view rot = "Rot to see?";
  std::string_view yes = "Yes";
  std::string_view no = "No";
  std::string_view shoots = "Shoots";
  std::string_view shoots_empty = "not counted";

  // Counting.
  std::string_view count_of = "{}: {} there";  // "4–6", 9
  std::string_view count_pieces = "pieces";
  std::string_view piece = "piece";
  std::string_view waiting = "what waits";
  std::string_view all_of = "All of all {}";
  std::string_view one_by_one = "Pot by pot";
  std::string_view all_counts = "{} in {}, each kept with its own";  // "96 bulbs", "24 pots"
  std::string_view holds_pieces = "It holds cut pieces. Only a loss is counted of them; unpot & count for the rest.";
  std::string_view holds_nothing = "By the book there is nothing in it to take out.";
  std::string_view out_how = "How did it go?";
  std::string_view cause = "Lost to what?";
  std::string_view money = "Money got, if any";
  std::string_view money_empty = "not said";
  std::string_view keep_needs_count = "Count first";
  std::string_view beyond = "{} out, but only {} are there by the book; is that right?";

  // Pot up, split, combine.
  std::string_view pot_number = "Into pot number";
  std::string_view pot_filled = "Pot {} stands filled: this is added to it.";
  std::string_view nothing_waits =
      "Nothing waits in {}: all of it is in pots. Unpot a pot first; what comes out waits here.";
  std::string_view one_batch = "These are of several batches. Choose pots of one batch for this.";
  std::string_view combine_line = "Goes from what waits in {} into another batch of {}.";
  std::string_view into = "Into which batch?";
  std::string_view no_other_batch = "There is no other batch of this clone.";
  std::string_view keep_needs_batch = "Choose a batch";
  std::string_view split_line = "What you count becomes a batch of its own, in its pot 1, out of {}.";
  std::string_view split_pieces = "It holds cut pieces: unpot & count them first, then split what came out.";

  // Test.
  std::string_view test_for = "Tested for what?";
  std::array<std::string_view, 3> test_subjects{"virus", "nematodes", "rot fungus"};
  std::string_view test_other = "Something else";
  std::string_view test_typed = "Type what it was tested for";
  std::string_view test_result = "The result";
  std::string_view keep_needs_test = "Say for what, and the result";

  // Hold, clear.
  std::string_view why = "Why?";
  std::string_view why_other = "Another reason";
  std::string_view why_typed = "Type the reason";
  std::string_view keep_needs_reason = "Say why";

  // Flower.
  std::string_view true_type = "True to its clone";
  std::string_view off_type = "Off-type";
  std::string_view true_type_each = "True to its clone, in each pot";
  std::string_view off_type_each = "Off-type, in each pot";
  std::string_view flower_empty = "not counted";

  std::string_view note_type_short = "Type the note";
};
[[nodiscard]] const CareWords& care_words();
// Of the work that writes this kind; begun is a split.
[[nodiscard]] const JobWords& job_words(Kind job);

}  // namespace motherbulb
