// One function a screen: draws it from the book's rows and its own draft, and returns at most one wish.
// No screen writes to the book, asks a clock or keeps anything of its own.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/book_rows.hpp"
#include "app/layout.hpp"
#include "app/pen.hpp"
#include "app/ui_state.hpp"
#include "app/widgets/balance.hpp"
#include "app/widgets/bars.hpp"
#include "app/widgets/bench.hpp"
#include "app/widgets/icons.hpp"
#include "app/widgets/slips.hpp"

namespace motherbulb {

struct ScreenView {
  Pen& pen;
  Layout layout;
  BookRows& rows;
  UiState& ui;
  When now;
  Day today;
};

std::optional<Wish> draw_start_screen(ScreenView& view);
std::optional<Wish> draw_who_screen(ScreenView& view);
std::optional<Wish> draw_unpot_choose_screen(ScreenView& view);
std::optional<Wish> draw_unpot_screen(ScreenView& view);
std::optional<Wish> draw_merge_screen(ScreenView& view);
std::optional<Wish> draw_pots_screen(ScreenView& view);
std::optional<Wish> draw_find_screen(ScreenView& view);
std::optional<Wish> draw_rest_screen(ScreenView& view);
std::optional<Wish> draw_due_screen(ScreenView& view);
std::optional<Wish> draw_health_screen(ScreenView& view);
std::optional<Wish> draw_trace_screen(ScreenView& view);
std::optional<Wish> draw_plans_screen(ScreenView& view);
std::optional<Wish> draw_plan_screen(ScreenView& view);
std::optional<Wish> draw_pot_screen(ScreenView& view);
std::optional<Wish> draw_care_screen(ScreenView& view);
std::optional<Wish> draw_clones_screen(ScreenView& view);
std::optional<Wish> draw_clone_screen(ScreenView& view);
std::optional<Wish> draw_cutting_screen(ScreenView& view);
std::optional<Wish> draw_cut_screen(ScreenView& view);
std::optional<Wish> draw_parcels_screen(ScreenView& view);
std::optional<Wish> draw_codes_screen(ScreenView& view);
std::optional<Wish> draw_scan_screen(ScreenView& view);
std::optional<Wish> draw_settings_screen(ScreenView& view);
std::optional<Wish> draw_first_screen(ScreenView& view);
std::optional<Wish> draw_outlook_screen(ScreenView& view);
std::optional<Wish> draw_clone_outlook_screen(ScreenView& view);
std::optional<Wish> draw_season_plan_screen(ScreenView& view);
std::optional<Wish> draw_yields_screen(ScreenView& view);
// Labels: a plain list of what the book holds.
std::optional<Wish> draw_list_screen(ScreenView& view);

// --- shared by screens

[[nodiscard]] std::string clone_words(const BatchState& batch);  // ‘Name’
[[nodiscard]] std::string clone_words(const std::string& clone);
[[nodiscard]] std::string batch_words(const BatchState& batch);                       // its label, else its mark
[[nodiscard]] std::string contents_words(const PotState& pot);                        // "8 sections", "12 bulbs"
[[nodiscard]] std::string pieces_word(Method method, std::int64_t count);             // "8 sections", "60 twin-scales"
[[nodiscard]] std::string holds_words(const BatchState& batch, const PotState& pot);  // its pieces or its bulbs
// A pot's place on a drawn bench, with words only where somebody is told them; no damage, neither chosen nor faded.
[[nodiscard]] BenchSlot slot_of(const Pen& pen, const PotView& pot);
// Contents and place; the place without its house where they do not fit in `first`, and left out where even that does
// not fit in the smallest type.
[[nodiscard]] std::string holds_at_words(Pen& pen, Type first, const std::string& holds, const std::string& place,
                                         float room);
[[nodiscard]] BalanceView balance_of(const BatchState& batch, const PotState& pot);
// "yesterday 18:00"; of a bare day the day.
[[nodiscard]] std::string when_words(const ScreenView& view, const When& when);
// The same, with the time of today and yesterday only.
[[nodiscard]] std::string when_about_words(const ScreenView& view, const When& when);
[[nodiscard]] Mark mark_of(Stage stage);

// The top of a screen: its head, who and when where something is written down here (the text block is then the control
// "who"), what was kept, what went wrong, what is asked. Takes its room from the layout's content.
struct Top {
  std::string title;
  std::string second;  // beside or below who and when
  bool back = true;
  bool clone_name = false;
  bool writes = true;  // something is written down on this screen
  bool kept_on_phone = true;
};
std::optional<Wish> draw_top(ScreenView& view, const Top& top);
// "Ines, now" or "Ines, yesterday 18:00".
[[nodiscard]] std::string by_words(const ScreenView& view);

// The slip of what is being kept or was kept last; none where nothing was.
[[nodiscard]] std::optional<Slip> slip_of(const UiState& ui);
// That slip (with Undo), else a pill that says when: in the head at the right, on a phone at the content's top. The
// room it takes from the head; drawing it is true where Undo was tapped.
[[nodiscard]] float kept_room(ScreenView& view);
bool draw_kept(ScreenView& view, bool on_phone_too = true);
// The strip that says what went wrong; takes its room from the content's top. True when it is put aside.
bool draw_trouble(ScreenView& view);
// A question asked once before something unlikely is kept; takes its room from the content's top.
std::optional<Wish> draw_asked(ScreenView& view);

// A row of a list. On a phone tag, name and text stand one under the other: `text_height` is that of the text.
struct RowView {
  Mark mark = Mark::growing;
  bool with_mark = true;
  std::optional<Icon> icon;  // in place of a mark
  std::string mark_word;
  std::string tag;
  std::string name;
  std::string line;
  std::string right;  // a count at the right
  std::string right_word;
  std::string target;  // empty: no control
};
[[nodiscard]] float row_height(const Layout& layout, bool tagged, float text_height = 21);
// True when it is tapped.
bool draw_row(Pen& pen, Rect area, const RowView& row, bool rule_above, bool phone);

}  // namespace motherbulb
