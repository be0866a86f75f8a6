// Work on pots, as its screens and forms share it. What is entered lies in CareDraft; its picture of the book is made
// by the screen before a form is drawn.
#pragma once

#include <optional>
#include <vector>

#include "app/screens/screens.hpp"

namespace motherbulb {

// Goes to the work of this kind on it, and back again when it is done or left.
[[nodiscard]] Go go_to_work(UiState& ui, const Subject& about, Kind job);

namespace care {

// Bulbs or pieces leave by it.
[[nodiscard]] bool takes_out(Kind job);
// What may be done there at all. A form says in words why it cannot be done now.
[[nodiscard]] bool needs_form(Kind job, const CareDraft& draft);
void open_job(ScreenView& view, Kind job);
// Leaves the form; the wish leads back where somebody came for this work alone.
std::optional<Wish> close_job(CareDraft& draft);

// Everything that a kind of work asks, in a panel; its Keep below. `area` is what there is room for.
std::optional<Wish> draw_form(ScreenView& view, Rect area);
// Its pad is shown: in landscape it then wants all the width there is.
[[nodiscard]] bool has_pad(const CareDraft& draft);
// What it would take, without stretching.
[[nodiscard]] float form_height(ScreenView& view, float width);

// The facts that are kept with what is entered; none: something is missing yet, and `missing` says what.
struct Facts {
  std::vector<Command> commands;
  std::string_view missing;
  std::string question;  // asked once before it is kept
};
[[nodiscard]] Facts facts_of(ScreenView& view);
[[nodiscard]] std::optional<Wish> keep_job(ScreenView& view);
// The pot in which is counted; null: what waits in the batch.
[[nodiscard]] const PotView* counted_pot(const CareDraft& draft);
// Of several, with what waits in the batch: how many places there are to count in.
[[nodiscard]] std::size_t counted_places(const CareDraft& draft);
void refresh_count(ScreenView& view);
// The products used before, and the one used last today entered.
void refresh_used(ScreenView& view);
// Enters what was said of that product last, where nothing else is entered yet; of another product nothing stays.
void take_used(CareDraft& draft, const Treatment& last);
// What was said of the product of this name last; null: it was not used.
[[nodiscard]] const Treatment* used_last(const CareDraft& draft, std::string_view product);

}  // namespace care
}  // namespace motherbulb
