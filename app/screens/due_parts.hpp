// What is due, as the due screen, the start screen and the screen of one pot share it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/screens/screens.hpp"
#include "app/widgets/reminder_row.hpp"

namespace motherbulb {

[[nodiscard]] Hemisphere where_of(const ScreenView& view);
// A tag of its pot, or of its batch where it is of several or of what waits.
[[nodiscard]] std::string due_tag(const DueGroup& group);
// Names a group among all: its first pot and step, as "26B014-B/3:dry-off".
[[nodiscard]] std::string due_key(const DueGroup& group);
[[nodiscard]] DueDraft::Chosen chosen_of(const DueGroup& group);

// The row without the names of its controls.
[[nodiscard]] ReminderRow reminder_of(const ScreenView& view, const DueGroup& group);
// Records the step for the whole group, or leads to where it is counted or graded.
[[nodiscard]] std::optional<Wish> do_due(ScreenView& view, const DueGroup& group);
// "Since 4 May, until 18 May".
[[nodiscard]] std::string window_days(const Due& due, Day today);
// The last that was written of a pot, the latest at the bottom, as many lines as there is room for.
void draw_last_entries(ScreenView& view, Rect area, const PotView& pot);
// Asks on the due screen until when that pot's step is put off, and why; then back again.
[[nodiscard]] Go put_off_alone(UiState& ui, const DueGroup& group);
// "1 h 20 min" from `now_ms` on.
[[nodiscard]] std::string time_left_words(std::int64_t until_ms, std::int64_t now_ms);
// "Nobody enters before 14:30, in 3 h 20 min: Soft soap".
[[nodiscard]] std::string no_entry_words(const ScreenView& view, const NoEntry& no_entry);

}  // namespace motherbulb
