// A damage note: the cause on a disc, its name, how bad, who and when, and the note in full.
#pragma once

#include <string>

#include "app/pen.hpp"
#include "app/widgets/icons.hpp"

namespace motherbulb {

struct DamageNoteView {
  Icon icon = Icon::unknown;
  std::string cause;
  int how_bad = 0;  // 0 not said, to 3
  std::string by;   // "Bo, today 9:15"
  std::string note;
};
// `narrow`: who and when stand on a line of their own.
[[nodiscard]] float damage_note_height(Pen& pen, float width, const DamageNoteView& view, bool narrow);
void draw_damage_note(Pen& pen, Rect area, const DamageNoteView& view, bool narrow);

}  // namespace motherbulb
