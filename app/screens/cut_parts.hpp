// What the files of the cutting session share: what is said or proposed, and the page on which one part is chosen.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "app/screens/screens.hpp"

namespace motherbulb {

inline constexpr std::int64_t most_pots = 300;  // of one session

// Looks at the book again where it, or what the proposals rest on, has changed.
void refresh_proposed(ScreenView& view);
// Where mothers of a clone stand or wait: the largest bulbs first, those on hold last.
[[nodiscard]] std::vector<MotherSource> mother_sources(const BookRows& rows, const std::string& clone,
                                                       const std::string& genus);
// A new draft for this clone; where a batch or pot is given, the mothers come from there.
void choose_clone(CutDraft& draft, const std::string& clone, const std::string& genus);

// What is said, else what is proposed.
[[nodiscard]] Method method_of(const CutDraft& draft);
[[nodiscard]] std::int32_t sections_of(const CutDraft& draft);
[[nodiscard]] Blade blade_of(const CutDraft& draft);
[[nodiscard]] YesNo dip_of(const CutDraft& draft);
[[nodiscard]] YesNo wedges_of(const CutDraft& draft);
[[nodiscard]] std::string medium_of(const CutDraft& draft);
[[nodiscard]] const MotherSource* source_of(const CutDraft& draft);  // null: new to the book
[[nodiscard]] bool source_is_gone(const CutDraft& draft);            // said, and not there any more
[[nodiscard]] Grade grade_of(const CutDraft& draft);
// Pieces, or bulbs where nothing is cut, that go into pots; how many to a pot, and the pots that makes.
[[nodiscard]] std::int64_t pieces_of(const CutDraft& draft);
[[nodiscard]] std::int64_t per_pot_of(const CutDraft& draft);
[[nodiscard]] std::int64_t pots_of(const CutDraft& draft);
[[nodiscard]] std::string place_of_pot(const CutDraft& draft, std::size_t pot);  // from 0

[[nodiscard]] std::string source_words(const MotherSource& source);
[[nodiscard]] std::string bulbs_words(const BulbsByGrade& bulbs, int most = 4);  // sizes, the largest first
[[nodiscard]] std::string_view blade_words(Blade blade);
[[nodiscard]] std::string_view yes_no_words(YesNo value);

// The question of the part that is open, and the page on which it is answered.
[[nodiscard]] std::string question_of(const CutDraft& draft);
void draw_cut_choice(ScreenView& view);

}  // namespace motherbulb
