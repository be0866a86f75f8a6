// The sentences of health: what is wrong and where, what each trouble looks like, how many to test, hot water,
// treatments, off-types, and what a bad pot may have touched.
#pragma once

#include <array>
#include <string_view>

namespace motherbulb {

struct HealthWords {
  std::string_view title = "Health";
  std::string_view second = "{} on hold or found bad";  // "3 pots"
  std::string_view second_none = "Nothing is on hold";
  std::array<std::string_view, 6> pages{"House",     "What it looks like", "How many to test",
                                        "Hot water", "Treatments",         "Off-types"};
  std::array<std::string_view, 6> pages_short{"House", "Looks like", "To test", "Hot water", "Treated", "Off-types"};
  std::string_view close = "Close";

  // Tiles: the particular trouble of a kind.
  std::string_view which = "which one?";
  std::string_view which_any = "cannot tell";

  // On hold, or found bad.
  std::string_view bad_title = "On hold or found bad";
  std::string_view bad_none = "No pot is on hold, and no test found anything.";
  std::string_view bad_by = "{} since {}, {}";  // "on hold", day, helper
  std::string_view bad_since = "{} since {}";
  std::string_view on_hold = "On hold";
  std::string_view tested_bad = "Found bad";
  std::string_view whole_batch = "the whole batch";
  std::string_view emptied = "emptied since";
  std::string_view no_reason = "no reason said";
  std::string_view line_more = "{}; {}";
  std::string_view trace = "Trace";
  std::string_view clear = "Clear";
  std::string_view hold = "Hold";
  std::string_view found_reason = "found bad";
  std::string_view kept_held = "{}: on hold";
  std::string_view clear_title = "Why is {} cleared?";
  std::string_view clear_hint = "Why it is cleared";
  std::string_view clear_keep = "Clear it";
  std::string_view kept_cleared = "{}: cleared";

  // Damage.
  std::string_view damage_title = "Damage in the last twelve months";
  std::string_view damage_none = "No damage was noted in the last twelve months.";
  std::string_view legend_leaves = "leaves: how bad";
  std::string_view legend_many = "size: how many pots";
  std::string_view place_title = "The same by place";
  std::string_view no_place = "No place said";
  std::string_view list_of_month = "{}, {} {}";                // trouble, month, year
  std::string_view list_second = "{}, the last note on each";  // "6 pots"
  std::string_view list_none = "No such pot any more.";
  std::string_view note_line = "{}, {}";  // what or how bad, who and when
  std::string_view by = "{}, {}";         // helper, when
  std::string_view gone = "emptied";

  // Not looked at.
  std::string_view unseen_title = "Not looked at for";
  std::array<std::string_view, 3> unseen_weeks{"2 weeks", "4 weeks", "8 weeks"};
  std::string_view unseen_none = "Every pot was looked at within {}.";
  std::string_view unseen_line = "{}, up to {}";  // "14 pots", "6 weeks"
  std::string_view unseen_act = "Looked at all {}";
  std::string_view unseen_act_one = "Looked at it";
  std::string_view unseen_kept = "{}: {} looked at";  // bench, "14 pots"
  std::string_view unseen_list = "{}, not looked at for {}";
  std::string_view unseen_ago = "seen {} ago";
  std::string_view lately_title = "Damage noted in the last four weeks";
  std::string_view lately_none = "None.";

  // What it looks like.
  std::string_view look_shows = "How it shows";
  std::string_view look_usual = "The usual response";
  std::string_view look_never_cut = "Never cut a bulb that shows it: every piece would carry it on.";
  std::string_view look_notify = "It may have to be reported: ask your plant-health service.";
  std::string_view look_rules =
      "Where something is sprayed or dipped, the label, your local rules and a licensed person "
      "come before this page.";
  std::string_view look_seen = "Seen on";
  std::string_view look_seen_none = "Not noted on any pot in the last twelve months.";
  std::string_view look_seen_count = "{} in twelve months";  // "6 pots"
  std::string_view look_source = "Source: {}";
  std::string_view look_choose = "Tap a trouble: how it shows and what growers do stands here.";

  // How many to test.
  std::string_view sample_lot = "Bulbs in the lot";
  std::string_view sample_there = "All {} here";
  std::string_view sample_share = "Find it if so many have it";
  std::string_view sample_confidence = "How sure";
  std::string_view sample_sensitivity = "The test finds an infected one";
  std::string_view sample_pool = "Tested together";
  std::string_view sample_single = "one by one";
  std::string_view sample_pools = "by {}";
  std::string_view sample_other = "other";
  std::string_view percent = "{} %";
  std::string_view sample_pools_take = "or {} of {}, {} in all";  // "12 pools", 5, "60 bulbs"
  std::string_view sample_pools_alone = "{} of {}, {} in all";
  std::string_view bulb = "bulb";
  std::string_view bulbs = "bulbs";
  std::string_view pool = "pool";
  std::string_view pools = "pools";
  std::string_view sample_means =
      "If {} of the {} are infected, or more, so many tests find at least one in {} of 100 such lots.";
  std::string_view sample_clean = "That none was found does not say that none is there.";
  std::string_view sample_draw = "Take them from all over the lot, without choosing.";
  std::string_view sample_not_enough = "Even all are not enough";
  std::string_view sample_not_enough_line =
      "With all {} tested, an infected one would be found in {} of 100 such lots: the test misses too many. Test "
      "twice, "
      "or by a better test.";
  std::string_view sample_refused = "Not to be reckoned";
  std::string_view sample_no_lot = "How many bulbs are in the lot? Tap their number.";
  std::string_view pad_done = "Done";
  std::string_view pad_lot = "How many bulbs are in the lot?";
  std::string_view pad_share = "Which share, in %?";
  std::string_view pad_confidence = "How sure, in %?";
  std::string_view pad_sensitivity = "Of 100 infected, how many does the test find?";
  std::string_view pad_pool = "How many together?";

  // Hot water. Warm-up and its line: S43; 44.4 °C for 3 h, dormant, before root tips show: S44, S17; rotten bulbs in
  // the bath: S46b.
  std::string_view water_girth = "The largest bulb, round the middle";
  std::string_view water_cm = "{} cm";
  std::string_view water_minutes = "{} min";
  std::string_view water_hours = "{} h {} min";
  std::string_view water_warm = "until its heart is as warm as the bath";
  std::string_view water_then = "Then the treatment's own time begins: 3 h at 44.4 °C for narcissus, {} in all.";
  std::string_view water_none = "For bulbs under 5 or over 30 cm the rule says nothing.";
  std::string_view water_when =
      "Dormant bulbs only, flower parts complete and before root tips show: late July and August in the north, half a "
      "year later in the south.";
  std::string_view water_how =
      "A rule for narcissus, from 25 °C in store to a bath of 44 °C. A week at 20 °C before it lets it run later "
      "safely.";
  std::string_view water_hippeastrum = "For hippeastrum no tried figure was found: do not treat a stock by this one.";
  std::string_view water_scald = "Hot water scalds. Keep children away; lift the basket with tongs and gloves.";
  std::string_view water_rot = "Take out soft and rotten bulbs first: they spread basal rot through the bath.";
  std::string_view water_rules =
      "Plain water. What else may go into the bath is for the label, your local rules and a licensed person to say.";
  std::string_view water_hotter = "Hotter and shorter harms the crop.";

  // Treatments.
  std::string_view treated_year = "This year";
  std::string_view treated_months = "Last 12 months";
  std::string_view treated_months_short = "12 months";
  std::string_view treated_print = "Print";
  std::string_view treated_none = "No treatment is written down for that time.";
  std::string_view treated_line = "{} on {}";  // amount, places or pots
  std::string_view treated_against = "{}; against {}";
  std::string_view treated_more = "{} and {} more";
  std::string_view treated_running = "{}: {}";  // bench, until when nobody enters
  std::string_view treated_now = "Re-entry times that run now";
  std::string_view treated_written = "Treatments written: {}, in {}";
  std::string_view treated_part = "treatments";
  std::string_view treated_nowhere =
      "There is nowhere to write to: put in a stick, or open the book from a folder that can be written into.";
  std::string_view treated_rules = "By the label only. Your local rules and a licensed person come first.";
  std::string_view treated_count = "{} written down";  // "4 treatments"
  std::string_view treatment = "treatment";
  std::string_view treatments = "treatments";

  // Off-types.
  std::string_view off_none = "No off-type was noted at flowering, or all were taken out.";
  std::string_view off_line = "{} off-type, {} true; {}";  // counts, who and when
  std::string_view off_line_only = "{} off-type; {}";
  std::string_view off_act = "Rogue";
  std::string_view off_hint = "Take them out while they flower: in leaf nobody can tell them apart.";

  // Trace.
  std::string_view trace_title = "What it touched";
  std::string_view trace_second = "From {}: {}";  // tag, "24 pots"
  std::string_view trace_none_second = "From {}";
  std::string_view trace_no_pot = "No pot was chosen to trace from.";
  std::string_view trace_nothing =
      "The book knows of nothing that {} touched: no clone-mate, no cut after it with the same blade, no neighbour.";
  std::array<std::string_view, 4> trace_groups{"Clone-mates by descent", "Cut after it with the same blade",
                                               "Combined with its batch", "Its neighbours on the bench"};
  std::array<std::string_view, 4> trace_why{
      "They come from the same bulb, and have what it had.", "Not disinfected between: sap carries it on.",
      "Nobody can tell their bulbs apart any more.", "What crawls, flies or splashes gets there first."};
  std::string_view trace_group = "{}: {}";  // words, "14 pots"
  std::string_view trace_hold_group = "Hold these {}";
  std::string_view trace_hold_group_one = "Hold it";
  std::string_view trace_hold_all = "Hold all of these: {}";
  std::string_view trace_hold_short = "Hold all {}";
  std::string_view trace_held_short = "All held";
  std::string_view years = "{} to {}";
  std::string_view trace_all_held = "All of these are on hold.";
  std::string_view trace_held = "on hold";
  std::string_view trace_reason = "traced from {}: {}";  // tag, its own reason
  std::string_view trace_reason_plain = "traced from {}";
  std::string_view trace_kept = "{} put on hold";  // "24 pots"
  std::string_view trace_hold_source = "Hold {} too";
  std::string_view step_same_batch = "of the same batch";
  std::string_view step_descent_one = "one step of descent away";
  std::string_view step_descent = "{} steps of descent away";
  std::string_view step_blade_one = "the next plant cut";
  std::string_view step_blade = "the {}. plant cut after it";
  std::string_view step_pot = "its bulbs came together";
  std::string_view step_bench_same = "on the same place";
  std::string_view step_bench_next = "next to it";
  std::string_view step_bench = "on the same bench";
  std::string_view waits = "what waits in the batch";
  std::string_view place_line = "{}, {}";
  std::string_view trail_title = "Where the blade went";
  std::string_view trail_of = "{}: {}";      // label of what the cut began, what came of it
  std::string_view trail_by = "{}, {}: {}";  // the same with whose blade
  std::string_view trail_disinfected = "{} cut after it, then it was disinfected.";  // "6 plants"
  std::string_view trail_disinfected_at_once = "it was disinfected before the next plant.";
  std::string_view trail_twentieth = "{} cut after it; beyond the twentieth none is known to catch it.";
  std::string_view trail_last = "{} cut after it so far, and it was not disinfected since. Disinfect it now.";
  std::string_view trail_last_none = "nothing was cut after it so far. Disinfect it before the next plant.";
  std::string_view trails_more = "And {} more.";  // "3 cuts"
  std::string_view cut = "cut";
  std::string_view cuts = "cuts";
  std::string_view plant = "plant";
  std::string_view plants = "plants";
  std::array<std::string_view, 3> trace_views{"Pots", "Descent", "Bench"};
  std::string_view descent_title = "On its descent";
  std::string_view bench_title = "On {}";
  std::string_view touched = "{} touched";  // "6 pots"
  std::string_view found_here = "found here";
  std::string_view untouched = "nothing left";
  std::string_view legend_touched = "touched";
  std::string_view legend_other = "not touched";
  std::string_view legend_bad = "on hold";
  std::string_view bench_none = "The book does not know where it stands.";
};
[[nodiscard]] const HealthWords& health_words();

}  // namespace motherbulb
