// Sentences of the outlook: the years ahead of a clone, this season's plan, what the cuts gave. {} are filled by say().
#pragma once

#include <array>
#include <string_view>

namespace motherbulb {

struct OutlookWords {
  // Which clone.
  std::string_view title = "Outlook";
  std::string_view second = "Choose a clone";
  std::string_view none = "No bulb is in this book yet.";
  std::string_view begin = "Cut the first bulb";
  std::string_view row_growing = "{}, {} growing from a cut";  // genus, pieces
  std::string_view plan_for_all = "This season, all clones together";
  std::string_view bulb = "bulb", bulbs = "bulbs", piece = "piece", pieces = "pieces";

  // The years ahead.
  std::string_view reckoning = "Looking at the years ahead of {}";
  std::string_view waits = "The years ahead are being reckoned.";
  std::string_view not_reckoned = "Nothing was reckoned";
  std::string_view from_records = "{} % from your own records";
  std::string_view other = "Other clone";
  std::string_view gave = "What the cuts gave";
  std::string_view again = "Reckon again";
  std::string_view stopped = "Stopped before it was done. Nothing was changed.";
  std::string_view nothing_stands = "Nothing of {} stands now, so there is nothing to look ahead from.";
  std::string_view cut = "Cut this clone";

  std::string_view in_100 = "in 100";
  std::string_view to_have = "to have {} saleable by {}";  // "400", "November 2030"
  std::string_view chance_unknown = "By {} there are too many to count: ask for an earlier year.";
  std::string_view one_in = "1 in {}";
  std::string_view of_100 = "{} in 100";
  std::string_view under_million = "under 1 in a million";
  std::string_view none_lost = "no chance";
  std::string_view lost_by_then = "that the clone is lost by then";
  std::string_view by = "{} {}";  // month, year
  std::string_view saleable = "saleable";
  std::string_view target_hint = "How many saleable bulbs?";
  std::string_view target_keep = "{} it is";
  std::string_view target_empty = "Type a number";

  std::string_view fan_title = "Saleable bulbs, {} cm and over";
  std::string_view fan_title_plain = "Saleable bulbs";
  std::string_view fan_wanted = "{} wanted";
  std::array<std::string_view, 5> fan_ends{"19 in 20", "3 in 4", "half", "1 in 4", "1 in 20"};
  std::string_view fan_said = "How sure each line is: 19 in 20 means that in 19 of 20 cases there are so many or more.";

  std::string_view ladder_title = "Bulbs by size round, cm";
  std::string_view ladder_said = "in the mean; saleable above the line";

  std::string_view levers_title = "What would change it most";
  std::string_view levers_said = "Saleable bulbs more by {}";
  std::array<std::string_view, 5> levers{"One lost bulb in ten kept alive", "A tenth more bulblets and offsets",
                                         "One in ten of those that keep their size grown a size larger",
                                         "Half as many disasters on a bench", "Begun one season sooner"};
  std::string_view levers_none = "Nothing that can be changed would change it by a bulb.";
  std::string_view more = "+{}", fewer = "−{}";

  std::string_view places_title = "Where to keep them";
  std::string_view place = "place", places = "places";
  std::string_view places_now = "now";
  std::string_view places_enough = "Kept in {}: that is enough. The chance that all are lost by {} is {}.";
  std::string_view places_few =
      "Spread over {}, {} is too few: then the chance that all are lost by {} is under 1 in 100.";
  std::string_view places_never = "No number of places makes it safe: more bulbs would.";
  std::string_view places_unknown = "The book does not say where its pots stand.";

  std::string_view one_trial = "a published trial", trials = "published trials";  // in place of their numbers
  std::string_view as_published = "as published";  // where the core says so, before its sources
  std::string_view missing_title = "What the book does not tell";
  std::string_view missing_said = "Taken in its place, each with where it comes from:";

  // This season.
  std::string_view plan_title = "This season";
  std::string_view plan_to_do = "What to do";
  std::string_view plan_mothers = "{}, {} cm and over";  // "5 mothers"
  std::string_view mother = "mother", mothers = "mothers";
  std::string_view plan_cut = "Cut {} of {} at {} cm into {}";
  std::string_view plan_cut_by = "by {}; each gives about {}";
  std::string_view plan_grow = "Grow on {}";
  std::string_view plan_grow_large = "{} of them large enough to cut";
  std::string_view plan_grow_none_large = "all too small to cut";
  std::string_view plan_grow_pieces = "and {} that grow from earlier cuts";
  std::string_view plan_sell = "Sell {} of {} cm";
  std::string_view plan_sell_by = "they do not help towards what is wanted";
  std::string_view plan_release = "Sell none before {}";
  std::string_view plan_release_by = "then {}, as sure as {} in 100";
  std::string_view plan_release_more = "{} a year later";
  std::string_view plan_no_release = "Sell none yet";
  std::string_view plan_no_release_by = "{} by {} are less sure than {} in 100";
  std::string_view plan_all = "All clones together";
  std::string_view plan_beside = "Other ways, by {}";
  std::string_view plan_itself = "this plan";
  std::array<std::string_view, 3> plan_others{"cut all", "cut none", "as last year"};
  std::string_view plan_beyond = "* needs more than there is";
  std::string_view plan_about = "about {}";
  std::string_view plan_pots = "Pots", plan_hours = "Hours";
  std::string_view plan_of = "{} of {}";
  std::string_view plan_works = "The plan is being worked out.";
  std::string_view plan_ends = "What was found by now comes.";
  std::string_view plan_stop = "Stop";
  std::string_view plan_make = "Plan again";
  std::string_view plan_stale = "This plan was for {} by {}.";
  std::string_view plan_without_chances = "Stopped: the best found by then, without its chance.";
  std::string_view plan_stopped = "Stopped before a plan was found.";
  std::string_view plan_none = "No plan keeps to what is asked.";
  std::string_view plan_gap = "The best found in the time there was; a better one may be found.";
  std::string_view plan_not_sure = "That is less sure than the {} in 100 asked for.";
  std::string_view plan_no_surer = "That is less sure than the {} in 100 asked for, and no surer plan was found.";
  std::string_view plan_limits = "Limits, and why";
  std::string_view plan_other = "Choose a clone";
  std::string_view plan_do = "Cut {} of pot {}";
  std::string_view plan_do_waiting = "Cut {} that wait in {}";
  std::string_view way_pots = "Pots: by {} it takes {} more.";
  std::string_view way_hours = "Hours: by {} it takes {} more.";
  std::string_view way_reserve = "Kept back: by {} there are {} too few of them.";
  std::string_view way_no_act = "For {} bulbs there is nothing that can be done.";
  std::string_view way_target = "What is wanted: by {} the most there can be is {} short of it.";
  std::string_view advice_title = "Why, and what to record";

  // What is wanted, and within what limits.
  std::string_view limits_title = "What is wanted";
  std::string_view goal_most = "Most by then", goal_soonest = "Soonest";
  std::string_view limit_target = "{} saleable";
  std::string_view limit_usual = "as many as usual";
  std::string_view limit_soonest = "as soon as can be";
  std::string_view limit_pots = "{} pots", limit_no_pots = "pots as needed";
  std::string_view limit_hours = "{} hours", limit_no_hours = "hours as needed";
  std::string_view limit_reserve = "keep back {}", limit_no_reserve = "keep none back";
  std::string_view limit_sure = "{} in 100 sure";
  std::string_view limit_none = "No limit";
  std::string_view pots_hint = "How many pots are there room for?";
  std::string_view hours_hint = "How many hours are there this season?";
  std::string_view limit_outcome = "About {} by {}, and {} in 100 to have {}.";
  std::string_view limit_outcome_plain = "About {} by {}.";
  std::string_view limit_stands = "They stand there already.";
  std::string_view limit_no_plan = "The plan is not worked out yet.";
  std::string_view bulblet = "bulblet", bulblets = "bulblets";

  // What the cuts gave.
  std::string_view yields_title = "What the cuts gave";
  std::string_view yields_second = "{}, {}";  // clone, "9 pots"
  std::string_view yields_reckoning = "Counting what the cuts of {} gave";
  std::string_view yields_none = "No pot of cut pieces of {} is unpotted and counted yet.";
  std::string_view yields_to_unpot = "Unpot and count";
  std::string_view way_into = "{} into {}";  // method, sections
  std::string_view way_from = "from mothers of {} cm";
  std::string_view way_from_unsaid = "size of the mothers not said";
  std::string_view pot = "pot", pots = "pots", section = "section", twin_scale = "twin-scale", scale = "scale";
  std::string_view counts_pots = "{}, {} went in";
  std::string_view counts_alive = "{} of {} alive";
  std::string_view counts_dead = "{} dead: {}";
  std::string_view counts_dead_part = "{} {}";
  std::string_view counts_no_dead = "none dead";
  std::string_view for_each = "{} for each {}";
  std::string_view by_size = "Bulblets by size round, cm";
  std::string_view next_mother = "The next mother";
  std::string_view about = "about {}";
  std::string_view from_to = "in nine cases of ten {} to {}";
  std::string_view own = "{} % from its own pots, the rest from what is published";
  std::string_view no_estimate = "Nothing is published of this way of cutting, so the counts are all there is.";
  std::string_view compare_title = "Ways side by side";
  std::string_view compare_said =
      "Saleable bulbs that one mother of {} cm has come to by then, in the mean, when nothing of hers is cut again";
  std::string_view left_whole = "Left whole";
  std::string_view pots_hide = "Close";
  std::string_view pot_line = "{} of {} alive, {}";
  std::string_view pot_line_unseen = "{}, {}";
  std::string_view left_out_taken = "Left out: {} of which an animal, a pest, frost or a person took all.";
  std::string_view left_out_uncounted = "Left out: {} of mothers of whom nobody said into how many they were cut.";
};
[[nodiscard]] const OutlookWords& outlook_words();

}  // namespace motherbulb
