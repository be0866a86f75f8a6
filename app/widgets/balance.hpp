// The bulb balance: what came in above, what became of it below, widths true. Pieces have a bar of their own.
#pragma once

#include <string>
#include <vector>

#include "app/pen.hpp"

namespace motherbulb {

struct BalancePart {
  enum class Kind { there, out, lost, open, increase } kind = Kind::there;
  std::int64_t count = 0;
  std::string words;  // "7 alive", "1 rot"
};

struct BalanceView {
  std::int64_t in = 0;
  std::string in_words;  // "8 sections in"
  std::vector<BalancePart> parts;
};

// The height it needs: 80, or 102 where words do not fit in the bars and stand in one line below.
[[nodiscard]] float balance_height(Pen& pen, float width, const BalanceView& view);
void draw_balance(Pen& pen, Rect area, const BalanceView& view);

}  // namespace motherbulb
