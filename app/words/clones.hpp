// The sentences of the clones: their list, descent and balance, a batch, renaming.
#pragma once

#include <string_view>

namespace motherbulb {

struct ClonesWords {
  // The list.
  std::string_view title = "Clones";
  std::string_view second = "{}, {}";  // "5 clones", "510 bulbs"
  std::string_view none =
      "No clone is in this book yet. The first cutting session, or the first bulbs grown on, begin one.";
  std::string_view none_match = "No clone is called so.";
  std::string_view clone = "clone";
  std::string_view clones = "clones";
  std::string_view bulb = "bulb";
  std::string_view bulbs = "bulbs";
  std::string_view batch = "batch";
  std::string_view batches = "batches";
  std::string_view piece_forming = "piece forming";
  std::string_view pieces_forming = "pieces forming";
  std::string_view row = "{}, {}";              // genus, "7 batches"
  std::string_view row_forming = "{}, {}, {}";  // and "32 pieces forming"
  std::string_view row_open = "{} not accounted for";
  std::string_view all_genera = "All {}";
  std::string_view search = "Search";
  std::string_view search_hint = "Letters of the name";
  std::string_view search_done = "Show {}";
  std::string_view search_drop = "All clones";
  std::string_view searched = "“{}”";
  std::string_view begin = "New session";

  // One clone.
  std::string_view gone = "This clone is not in the book any more: what began it was taken back.";
  std::string_view descent_second = "{}, {} in {}";  // genus, "173 bulbs", "5 batches"
  std::string_view years_two = "{} and {}";
  std::string_view years_more = "{} to {}";
  std::string_view cut_into = "{} into {}";         // mothers, sections
  std::string_view cut_whole = "{} in {} sectors";  // mothers, sectors
  std::string_view offsets = "{} by offsets";       // "2 bulbs"
  std::string_view grown_on = "{} grown on";
  std::string_view first_bulbs = "{} at first";  // no parent
  std::string_view lost_to = "lost to: {}";
  std::string_view held = "on hold";
  std::string_view balance_title = "Every bulb accounted for";
  std::string_view pieces_title = "And every piece";
  std::string_view open_some = "{} still open";
  std::string_view open_none = "nothing open";
  std::string_view in_since = "{} in, since {}";  // "115 bulbs", year
  std::string_view pieces_in = "{} cut";
  std::string_view there = "{} there";
  std::string_view cut = "{} cut";
  std::string_view sold = "{} sold";
  std::string_view given = "{} given";
  std::string_view discarded = "{} discarded";
  std::string_view lost = "{} {}";  // count, cause
  std::string_view open = "{} open";
  std::string_view beyond = "{} beyond what was in";
  std::string_view growing = "{} growing";
  std::string_view waiting = "{} waiting";
  std::string_view alive = "{} taken up alive";
  std::string_view unseen = "{} not seen again";
  std::string_view piece = "piece";
  std::string_view pieces = "pieces";
  std::string_view cut_from = "Cut this clone";
  std::string_view rename = "Rename";
  std::string_view other = "Other clone";

  // Renaming.
  std::string_view rename_title = "A new name for {}";
  std::string_view rename_hint = "Type the name";
  std::string_view rename_keep = "Call it {}";
  std::string_view rename_keep_empty = "Keep";
  std::string_view rename_same = "That is its name already.";
  std::string_view rename_joins = "There is a clone {} already: the two become one.";
  std::string_view renamed = "{} is now {}";

  // A batch of it.
  std::string_view batch_gone = "This batch is not in the book any more: what began it was taken back.";
  std::string_view batch_second = "{}, begun {}";  // label, day
  std::string_view begun_by = "Begun {} by {}";
  std::string_view begun_on = "Begun {}";
  std::string_view mothers_of = "{} of {} cm";  // "2 mothers", grade
  std::string_view mother = "mother";
  std::string_view mothers = "mothers";
  std::string_view blade_bulb = "blade cleaned for each bulb";
  std::string_view blade_batch = "blade cleaned for the batch";
  std::string_view blade_no = "blade not cleaned";
  std::string_view in_medium = "in {}";
  std::string_view comes_from = "Comes from";
  std::string_view no_parent = "New to the book with this batch";
  std::string_view parent_missing = "Its parent is not in this book";
  std::string_view led_to = "Led to";
  std::string_view on_hold = "On hold: {}";
  std::string_view on_hold_plain = "On hold";
  std::string_view not_cut = "What is on hold is not cut: clear it first, pot by pot under Pests & damage.";
  std::string_view pots = "Pots";
  std::string_view no_pots = "No pot of this batch stands filled.";
  std::string_view waits = "{} waiting to be potted";
  std::string_view pots_and = "{}, {}";  // "4 pots", "32 pieces"
  std::string_view pot = "pot";
  std::string_view pots_many = "pots";
  std::string_view cut_batch = "Cut from this";
  std::string_view work_batch = "Work on this batch";
};
[[nodiscard]] const ClonesWords& clones_words();

}  // namespace motherbulb
