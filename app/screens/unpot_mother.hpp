// The mother opened on the unpotting screen: what is dead and of what, or what each section bore. Part of that screen.
#pragma once

#include <cstdint>
#include <map>
#include <string>

#include "app/screens/screens.hpp"

namespace motherbulb {

[[nodiscard]] bool of_pieces(const UnpotDraft& draft);
[[nodiscard]] std::int64_t was_in(const UnpotDraft& draft);  // pieces or bulbs in the pot
[[nodiscard]] std::int64_t dead_count(const UnpotDraft& draft);
[[nodiscard]] std::map<Cause, std::int64_t> dead_by_cause(const UnpotDraft& draft);

// What one section bore: "2", "rot", "two together", "not said".
[[nodiscard]] std::string words_of_section(const SectionSaid& one);

// Stands in place of the number pad (on a phone in place of all but the act that keeps), until it is done.
void draw_opened_mother(ScreenView& view, Rect area);

}  // namespace motherbulb
