// The sentences of the bench view: pests and damage, what is seen, what is put on hold.
#pragma once

#include <array>
#include <string>
#include <string_view>

namespace motherbulb {

struct BenchWords {
  std::string_view title = "Pests & damage";
  std::string_view second = "{}, {}, {} with damage";  // bench, "24 pots", 6
  std::string_view empty = "No pot is filled. What is potted up stands here, bench by bench.";
  std::string_view no_place = "No place said";
  // Filters, and short where there is no room.
  std::string_view all = "All {}";
  std::string_view with_damage = "With damage {}";
  std::string_view with_damage_short = "Damage {}";
  std::string_view held = "On hold {}";
  std::string_view not_looked = "Not looked at {}";
  std::string_view not_looked_short = "Not looked {}";
  std::string_view find = "Find a pot";
  // The bench.
  std::string_view bench_line = "{}, {} with damage";
  std::string_view bench_line_matching = "{} of {} here";
  std::string_view whole_bench = "Whole bench";
  std::string_view these = "These {}";
  std::string_view benches = "Which bench?";
  std::string_view legend_growing = "growing, bulbs in it";
  std::string_view legend_growing_short = "growing";
  std::string_view legend_pieces = "pieces";
  std::string_view legend_resting = "resting";
  std::string_view legend_held = "on hold";
  std::string_view legend_free = "free";
  // The pot.
  std::string_view looked = "Last looked at {}";
  std::string_view never_looked = "Not looked at yet";
  std::string_view on_hold = "on hold";
  std::string_view on_hold_why = "On hold: {}";
  std::string_view no_damage = "No pest or damage is noted on this pot.";
  std::string_view hold = "Put on hold";
  std::string_view clear = "Clear the hold";
  std::string_view story = "Whole story";
  std::string_view work = "Work on it";
  std::string_view choose = "Tap a pot on the bench: what was noted on it stands here.";
  // The pot is not there any more.
  std::string_view emptied = "emptied";
  std::string_view emptied_by = "{} was emptied by {}, {}, while it was open here.";
  std::string_view gone = "{} is not a filled pot of this book any more.";
  std::string_view draft_waits = "What you chose below is not lost: tap the pot that it belongs to.";
  std::string_view keep_choose = "Choose a pot to keep it";
  // The balance.
  // What is seen.
  std::string_view see = "What do you see?";
  std::string_view see_hint = "one tap each, no count needed";
  std::string_view other = "other";
  std::string_view more = "more";
  std::string_view first_ones = "first ones";
  std::array<std::string_view, 4> how_bad{"", "a trace", "some", "much"};
  std::string_view nothing = "Looked, nothing to see";
  std::string_view nothing_short = "Nothing to see";
  std::string_view keep_seen = "Keep: {}";
  std::string_view keep_seen_bad = "Keep: {}, {}";
  std::string_view kept_seen = "{}: {}";
  std::string_view kept_seen_bad = "{}: {}, {}";
  std::string_view kept_looked = "{}: looked";
  std::string_view kept_held = "{}: on hold";
  std::string_view kept_cleared = "{}: hold cleared";
  std::string_view note = "Note";
  std::string_view note_type = "Type a note on {}";
  std::string_view note_keep = "Take this note";
  std::string_view note_drop = "No note";
  // On hold, and cleared: why.
  std::string_view why_hold = "Why on hold?";
  std::string_view why_clear = "Why cleared?";
  std::array<std::string_view, 4> hold_reasons{"virus-like marks on the leaves", "looks sick", "waits for a test",
                                               "perhaps not true to its clone"};
  std::array<std::string_view, 4> clear_reasons{"its test was clean", "looks well again", "true to its clone",
                                                "held by mistake"};
  std::string_view reason_other = "Another reason";
  std::string_view reason_type = "Type the reason";
  std::string_view reason_hold = "Put on hold";
  std::string_view reason_clear = "Clear the hold";
};
[[nodiscard]] const BenchWords& bench_words();

}  // namespace motherbulb
