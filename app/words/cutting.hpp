// The sentences of a cutting session, and of the list of sessions so far.
#pragma once

#include <array>
#include <string_view>

namespace motherbulb {

struct CuttingWords {
  // Sessions so far.
  std::string_view list_title = "Cutting";
  std::string_view list_second = "{} so far";  // "19 sessions"
  std::string_view session = "session";
  std::string_view sessions = "sessions";
  std::string_view list_none =
      "Nothing was cut yet. A session writes down what was cut, how, and where its pots stand.";
  std::string_view row_by = "{} into {}, {}, {}";  // method, sections, day, helper
  std::string_view row = "{} into {}, {}";
  std::string_view row_whole_by = "{}, {} sectors, {}, {}";
  std::string_view row_whole = "{}, {} sectors, {}";
  std::string_view mother = "mother";
  std::string_view mothers = "mothers";
  std::string_view begin = "New cutting session";

  // A session: the clone.
  std::string_view title = "Cutting session";
  std::string_view choose_clone = "Which clone?";
  std::string_view choose_second = "Then how many mothers";
  std::string_view new_clone = "A new clone";
  std::string_view other_clone = "Other clone";
  std::string_view clone_row = "{}, {}";           // genus, "92 bulbs"
  std::string_view clone_row_last = "{}, cut {}";  // genus, day
  std::string_view bulb = "bulb";
  std::string_view bulbs = "bulbs";
  std::string_view clone_name = "Name of the new clone";
  std::string_view clone_name_next = "Next: its genus";
  std::string_view clone_known = "A clone of this name is in the book.";
  std::string_view genus_of = "Genus of {}";
  std::string_view genus_other = "Another genus";
  std::string_view genus_type = "Botanical name of the genus";
  std::string_view genus_keep = "It is {}";
  std::string_view keep_empty = "Keep";
  std::array<std::string_view, 8> genera{"Hippeastrum", "Narcissus", "Nerine",    "Hyacinthus",
                                         "Lachenalia",  "Lilium",    "Galanthus", "Lycoris"};

  // Its parts.
  std::string_view method = "Method";
  std::string_view change_method = "How was it increased?";
  std::string_view mothers_title = "Mothers";
  std::string_view bulbs_title = "Bulbs";
  std::string_view source = "From";
  std::string_view change_source = "Where do they come from?";
  std::string_view source_new = "New to the book";
  std::string_view source_new_line = "Bulbs that no batch of this book holds";
  std::string_view source_pot = "Pot {}";
  std::string_view source_waiting = "Waiting in {}";
  std::string_view source_bulbs = "{} of {} cm";  // 3, grade
  std::string_view source_unsized = "{} of no size";
  std::string_view source_held = "on hold: {}";
  std::string_view source_held_plain = "on hold";
  std::string_view grade = "Size round, cm";
  std::string_view sections = "Sections from each";
  std::string_view sectors = "Sectors on each";
  std::string_view twin_scales = "Twin-scales from each";
  std::string_view scales = "Scales from each";
  std::string_view ten_more = "+10";
  std::string_view all_of_them = "all {}";
  std::string_view grade_count = "{}: {}";  // grade, how many mothers

  std::string_view as_last = "As last time, {}";  // day
  std::string_view as_usual = "As is usual";
  std::string_view blade = "Blade cleaned";
  std::string_view change_blade = "Was the blade cleaned?";
  std::string_view blade_bulb = "for each bulb";
  std::string_view blade_batch = "for the batch";
  std::string_view blade_no = "no";
  std::string_view dip = "Dip";
  std::string_view change_dip = "Were the pieces dipped?";
  std::string_view wedges = "Held open";
  std::string_view change_wedges = "Are wedges put in, to hold the cuts open?";
  std::string_view yes = "yes";
  std::string_view no = "no";
  std::string_view medium = "Medium";
  std::string_view change_medium = "What are they set in?";
  std::string_view medium_none = "not said";
  std::string_view medium_other = "Another medium";
  std::string_view medium_type = "Type the medium";
  std::string_view medium_keep = "Take it";
  std::array<std::string_view, 5> media{"damp vermiculite", "perlite and peat", "bark and grit", "coarse sand",
                                        "potting mix"};
  std::string_view pots = "To a pot";
  std::string_view change_pots = "How many to a pot?";
  std::string_view pots_later = "not potted yet";
  std::string_view pots_later_long = "Not potted yet: they wait in the batch";
  std::string_view pots_one = "{} in each pot";
  std::string_view pots_value = "{} each, {}";  // 8, "2 pots"
  std::string_view pot = "pot";
  std::string_view pots_many = "pots";
  std::string_view place = "Place";
  std::string_view change_place = "On which bench?";
  std::string_view place_none = "no place said";
  std::string_view place_free = "{} free";
  std::string_view place_next = "next free: no. {}";
  std::string_view place_one = "{}, no. {}";
  std::string_view place_more = "{}, no. {} to {}";
  std::string_view place_some = "{}, no. {} and on";

  // The session in one look.
  std::string_view label = "Label";
  std::string_view into = "{} into {}";  // "2 mothers", 8
  std::string_view into_sectors = "{}, {} sectors";
  std::string_view pieces_in_pots = "{} in {}";  // "16 sections", "2 pots"
  std::string_view none_yet = "Tap how many mothers";
  std::string_view none_yet_bulbs = "Tap how many bulbs";
  std::string_view keep = "Keep the session";
  std::string_view keep_pots = "Keep: {}";            // "2 pots"
  std::string_view kept = "{}: {} into {}, {} kept";  // label, "2 mothers", 8, "4 pots"
  std::string_view kept_short = "{}: {} into {}";     // label, 2, 8
  std::string_view kept_waiting = "{}: {} into {} kept";
  std::string_view kept_bulbs = "{}: {}, {} kept";  // label, "5 bulbs", "2 pots"
  std::string_view kept_bulbs_waiting = "{}: {} kept";
  std::string_view on_hold =
      "{} is on hold ({}). Clear it first, under Pests & damage; nothing is cut from it until then.";
  std::string_view on_hold_plain =
      "{} is on hold. Clear it first, under Pests & damage; nothing is cut from it until then.";
  std::string_view more_than_there =
      "There by the book: {} of this size. Mothers that stand in several pots are taken up first (Unpot & count); then "
      "they wait in their batch.";
  std::string_view too_many_pots = "More than {} pots at once: put more into each.";
  std::string_view source_gone = "Those bulbs are not there any more: choose where the mothers come from again.";

  // Cautions, where the work is.
  std::string_view caution_cut =
      "Cut away from you. Between bulbs wipe dirt and sap off the blade, then 70 % alcohol: that is routine, and stops "
      "no virus. Alcohol burns: no flame, open a window. Sap irritates the skin: wear gloves. Bulbs are poisonous: "
      "keep "
      "them from people, pets and stock, and never beside food.";
  std::string_view caution_bulbs =
      "Sap irritates the skin: wear gloves. Bulbs are poisonous: keep them from people, pets and stock, and never "
      "beside "
      "food.";
  std::string_view caution_dip = "Use a dip by its label only; your local rules and a licensed person come first.";
  std::string_view caution_perlite = "Wet perlite before it is poured, and wear a mask: its dust harms the lungs.";

  // The stakes.
  std::string_view stakes_title = "Write these stakes";
  std::string_view stakes_second = "{}, {}";  // clone, what was begun
  std::string_view stakes_waiting = "Not potted yet: write one stake for the batch.";
  std::string_view stakes_check = "The last sign of the label guards against slips: write it too.";
  std::string_view stake_line = "{}, {}";  // what it holds, place
  std::string_view stakes_next = "Next session";
  std::string_view stakes_batch = "Open the batch";
};
[[nodiscard]] const CuttingWords& cutting_words();

}  // namespace motherbulb
