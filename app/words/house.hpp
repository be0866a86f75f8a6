// The sentences of settings, the first start, the start of an empty book, and parcels & backup.
#pragma once

#include <array>
#include <string_view>

namespace motherbulb {

struct HouseWords {
  // Links on the start screen.
  std::string_view link_find = "Find a pot";
  std::string_view link_parcels = "Parcels & backup";
  std::string_view link_settings = "Settings";

  // An empty book.
  std::string_view empty_title = "This book is empty";
  std::string_view empty_line =
      "Write down the bulbs that you have: their names, how many, how large. All else follows.";
  std::string_view empty_act = "Write down your bulbs";
  std::string_view empty_other = "Or bring in what is written already";
  std::string_view empty_merge = "Merge another book";
  std::string_view empty_table = "Or drop the file of a table on this window.";
  std::string_view empty_demo = "An invented glasshouse, to look round first: type";
  std::string_view empty_demo_command = "motherbulb demo demo.book";

  std::string_view empty_look = "See an invented house";

  // Where the device may take back the room in which it keeps the book.
  std::string_view risk_full = "There is hardly any room left for the book";
  std::string_view risk_full_line =
      "Hand out a parcel now: what is in it is safe elsewhere. Then clear room on this device.";
  std::string_view risk_only_here = "More than a day's work lies only on this device";
  std::string_view risk_only_here_line = "Hand out a parcel, or merge it into another book: then it is safe there too.";
  std::string_view risk_cleared = "This browser may clear the book when it needs room";
  std::string_view risk_cleared_line =
      "It does not promise to keep it. Hand out a parcel: what is in it is safe elsewhere.";
  std::string_view risk_act = "Hand out a parcel";

  // The name and letter of a device.
  std::string_view device_suggest = "Tap one, or write another";
  std::array<std::string_view, 4> devices{"potting bench", "glasshouse", "office", "phone"};
  std::string_view device_type = "Write the device's name";
  std::string_view letter_title = "Its letter";
  std::string_view letter_line =
      "It stands on every label that this device gives out: 26{}001. No two devices share one.";
  std::string_view letter_used = "{} is the letter of {}. Choose another.";
  std::string_view letter_used_nameless = "{} is the letter of another device. Choose another.";
  std::string_view letter_free = "{} is free.";
  std::string_view letter_own = "{} is this device's letter.";
  std::string_view device_keep = "Keep {}, letter {}";
  std::string_view device_keep_empty = "Keep";
  std::string_view device_kept = "{}, {}";

  // Settings.
  std::string_view settings_title = "Settings";
  std::string_view settings_second = "Of this device and of nothing else";
  std::string_view naming_title = "This device";
  std::string_view naming_second = "Its name and its letter";
  std::string_view device = "This device";
  std::string_view device_nameless = "no name yet";
  std::string_view device_line = "letter {} on its labels";
  std::string_view device_rename = "Name it anew";
  std::string_view device_name = "Give it a name";
  std::string_view helper = "Who is here";
  std::string_view helper_none = "nobody yet";
  std::string_view helper_change = "Another";
  std::string_view house = "Where the house stands";
  std::string_view north = "North";
  std::string_view south = "South";
  std::string_view theme = "Light";
  std::string_view day = "Day";
  std::string_view night = "Night";
  std::string_view text_size = "Text size";
  std::string_view percent = "{} %";
  std::string_view no_room = "This window has no room for all of {} %: text is as large as it can be here.";
  std::string_view hand = "Working hand";
  std::string_view left = "Left";
  std::string_view right = "Right";
  std::string_view motion = "Motion";
  std::string_view motion_all = "All of it";
  std::string_view motion_less = "Less";
  std::string_view book = "The book";
  std::string_view book_where = "It lies in";
  std::string_view book_in_browser = "this browser's own storage";
  std::string_view book_entries = "entries";
  std::string_view book_entry = "entry";
  std::string_view book_digest = "Shows {}";
  std::string_view book_digest_line = "Books that show the same hold the same.";
  std::string_view parcels_link = "Parcels & backup";
  std::string_view devices_title = "Devices in this book";
  std::string_view devices_none = "No device has written in it yet.";
  std::string_view this_device = "this device";
  std::string_view other_device = "another device";
  std::string_view letter_of = "letter {}";
  std::string_view no_letter = "no letter";

  // First start.
  std::string_view first_of = "Question {} of {}";
  std::string_view first_who = "Who are you?";
  std::string_view first_who_line = "What you tap is kept under your name, so that the others know whom to ask.";
  std::string_view first_who_type = "Write your name";
  std::string_view first_who_keep = "I am {}";
  std::string_view first_device = "What is this device called?";
  std::string_view first_device_line =
      "When several devices are merged at day's end, its name says where an entry came from.";
  std::string_view first_house = "Where does the house stand?";
  std::string_view first_house_line =
      "North or south of the equator: the seasons lie half a year apart. It can be changed in the settings.";
  std::string_view first_north = "North of it";
  std::string_view first_south = "South of it";
  std::string_view first_north_months = "Autumn begins in September";
  std::string_view first_south_months = "Autumn begins in March";
  std::string_view first_skip = "Later";
  std::string_view first_welcome = "Motherbulb";
  std::string_view first_welcome_line = "Three questions before the first day";

  // Parcels and backup.
  std::string_view parcels_title = "Parcels & backup";
  std::string_view parcels_second = "{} in this book, which shows {}";
  std::string_view parcels_second_short = "Shows {}";  // the digest
  std::string_view parcel_title = "Hand out a parcel";
  std::string_view parcel_line = "Another device takes it in by Merge; nothing in this book changes.";
  std::string_view parcel_all = "Everything";
  std::string_view parcel_lacking = "What {} lacks";
  std::string_view parcel_only_all =
      "A device whose parcel lies here can be sent only what it lacks. None lies here now.";
  std::string_view where = "Where to";
  std::string_view where_folder = "Book's folder";
  std::string_view where_stick = "Stick {}";
  std::string_view where_saved = "Downloads";
  std::string_view where_shared = "Share";
  std::string_view where_none = "There is no place to write to. Plug in a stick.";
  std::string_view parcel_act = "Hand out {}";
  std::string_view parcel_nothing = "Nothing to hand out";
  std::string_view parcel_working = "Writing the parcel";
  std::string_view parcel_kept = "{} handed out";
  std::string_view parcel_failed = "No parcel was written";
  std::string_view backup_title = "Back up";
  std::string_view backup_line = "A copy of the whole book, read back and compared. A stick in another house is best.";
  std::string_view backup_act = "Back up the book";
  std::string_view backup_working = "Copying the book";
  std::string_view backup_kept = "Backed up, {}";
  std::string_view backup_failed = "No backup was written";
  std::string_view table_line = "Or every fact as a table, for a spreadsheet.";
  std::string_view table_act = "Write a table";
  std::string_view table_working = "Writing the table";
  std::string_view table_kept = "{} written";
  std::string_view table_kept_without = "{} written, {} that a table has no word for left out";
  std::string_view table_failed = "No table was written";
  std::string_view table_part = "table";                       // in the file's name
  std::string_view backup_part = "backup";                     // in the file's name
  std::string_view written_on_stick = "On the stick {}, {}.";  // stick, time
  std::string_view written_in_folder = "In the book's folder, {}.";
  std::string_view written_saved = "Handed to the browser, {}: look among its downloads.";
  std::string_view written_shared = "Handed to the device's own sheet, {}.";
  std::string_view written_stick_caution = "Let go of the stick on the desktop before you pull it.";
  std::string_view stopped = "Stopped. Nothing was written.";
  std::string_view check_title = "Check the book";
  std::string_view check_line = "Reads every entry, reckons everything anew, and compares.";
  std::string_view check_act = "Check";
  std::string_view check_working = "Checking the book";
  std::string_view check_failed = "The book was not checked";
  std::string_view page_failed = "It could not be written";
  std::string_view check_stopped = "Stopped. Nothing was found out.";
  std::string_view check_sound = "Sound: {} read and reckoned anew, all as written. {}";  // entries, time
  std::string_view check_unsound = "Not sound: {} read. {}";
  std::string_view check_chains = "Some entries are not as they were written: the store is damaged.";
  std::string_view check_folded = "What the screens show does not follow from the entries.";
  std::string_view check_mend =
      "Keep this book as it is, restore the latest backup beside it, and merge a parcel from every device.";
  std::string_view check_set_aside =
      "Set this book aside: its file is saved, and a new book begins. For that, choose the latest backup and a parcel "
      "from "
      "every device.";
  std::string_view set_aside_act = "Set this book aside";
  std::string_view check_open = "Open, not accounted for: {}.";  // "3 balances"
  std::string_view check_matters = "For you to settle: {}.";     // "2 matters"
  std::string_view take_title = "Take in and put back";
  std::string_view take_line =
      "What waits is merged on a screen of its own. A backup comes in like a parcel: nothing is overwritten.";
  std::string_view take_act = "Merge the day";
  std::string_view take_choose = "Choose a parcel or a backup";
  std::string_view restore_line = "Drop a backup on this window, or put it back as a book of its own by typing";
  std::string_view restore_command = "motherbulb restore BACKUP NEW.book";
};

[[nodiscard]] const HouseWords& house_words();

}  // namespace motherbulb
