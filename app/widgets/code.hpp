// A QR code on the screen, for cameras: black on white in both themes, with its quiet zone, and every module the same
// number of whole pixels wide.
#pragma once

#include "app/code_symbol.hpp"
#include "app/pen.hpp"

namespace motherbulb {

// The side, in dp, of a code of so many modules with its quiet zone, as large as fits into a square of `room` dp. A
// room of less than a pixel a module is too small for it: then it is a pixel a module, and larger than the room.
[[nodiscard]] float code_side(const Pen& pen, std::size_t modules, float room);

// Draws it `side` dp large (from code_side), with its top left corner on the pixel nearest to `corner`.
void draw_code(Pen& pen, Point corner, float side, const CodeSymbol& symbol);

}  // namespace motherbulb
