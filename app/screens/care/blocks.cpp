#include "app/screens/care/blocks.hpp"

#include <algorithm>

#include "app/widgets/labels.hpp"
#include "app/words.hpp"

namespace motherbulb {
namespace {

constexpr float gap = 8;
constexpr float between = 12;  // blocks
constexpr float key_height = 56;

}  // namespace

void Blocks::heading(std::string_view text) {
  const float h = pen_.paragraph_height(width_, Type::heading_20, text);
  own(h, [this, shown = std::string(text)](Rect at) { pen_.paragraph(at, Type::heading_20, pen_.theme.ink, shown); });
}

void Blocks::words(std::string_view text, bool strong) {
  const Type type = strong ? Type::strong_18 : Type::body_16;
  const float h = pen_.paragraph_height(width_, type, text);
  own(h, [this, type, strong, shown = std::string(text)](Rect at) {
    pen_.paragraph(at, type, strong ? pen_.theme.ink : pen_.theme.ink2, shown);
  });
}

void Blocks::caution(std::string_view text) {
  const float side = 48;
  const float h = pen_.paragraph_height(width_ - side - 12, Type::body_15, text) + 20;
  own(h, [this, side, shown = std::string(text)](Rect at) {
    const Theme& t = pen_.theme;
    pen_.fill(at, t.error_ground, 6);
    pen_.frame(at, t.copper);
    draw_icon(pen_, Icon::warning, {at.x + side / 2, at.middle().y}, 24, t.copper);
    const Rect inside{at.x + side, at.y + 10, at.w - side - 12, at.h - 20};
    pen_.paragraph(inside, Type::body_15, t.ink2, shown);
  });
}

void Blocks::choices(std::string_view group, std::vector<Choice> all) {
  if (all.empty()) return;
  float widest = 0;
  for (const Choice& one : all) widest = std::max(widest, pen_.width(Type::strong_16, one.words) + 24);
  const auto fit = static_cast<std::size_t>(std::max(1.0F, (width_ + gap) / (std::min(widest, width_) + gap)));
  // Rows of even length: five keys are three and two, not four and one.
  const std::size_t most = std::min({fit, all.size(), std::size_t{6}});
  const std::size_t rows = (all.size() + most - 1) / most;
  const std::size_t columns = (all.size() + rows - 1) / rows;
  const float h = static_cast<float>(rows) * (key_height + gap) - gap;
  own(h, [this, columns, name = std::string(group), keys = std::move(all)](Rect at) {
    const float wide = (at.w - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
    for (std::size_t i = 0; i < keys.size(); ++i) {
      const Rect key{at.x + static_cast<float>(i % columns) * (wide + gap),
                     at.y + static_cast<float>(i / columns) * (key_height + gap), wide, key_height};
      if (draw_filter(pen_, key, name + ":" + keys[i].key, keys[i].words, keys[i].chosen)) keys[i].take();
    }
  });
}

void Blocks::field(std::string_view name, std::string_view about, const std::string& value,
                   std::string_view placeholder, bool active, std::function<void()> take) {
  const std::string shown = value.empty() ? std::string(placeholder) : value;
  const Type type = value.empty() ? Type::body_16 : Type::strong_18;
  const float room = width_ - 28 - 36;
  const float text = pen_.paragraph_height(room, type, shown);
  const float h = std::max(64.0F, 34 + text + 8);
  own(h, [this, name = std::string(name), about = std::string(about), shown, type, empty = value.empty(), active,
          take = std::move(take)](Rect at) {
    const Theme& t = pen_.theme;
    if (pen_.touch.hit(name, at)) take();
    const bool pressed = is_pressed(pen_, name);
    pen_.fill(at, pressed ? t.straw : t.sheet, 6);
    pen_.frame(at, pressed ? t.on_straw : active ? t.tunic : t.edge, active ? 4 : 2);
    const Color ink2 = pressed ? t.on_straw : t.ink2;
    const float room_now = at.w - 28 - 36;
    pen_.text_in({at.x + 14, at.y + 8, room_now, 22}, pen_.fitting({Type::body_16, Type::body_15}, about, room_now),
                 ink2, about);
    pen_.paragraph({at.x + 14, at.y + 32, room_now, at.h - 36}, type,
                   pressed ? t.on_straw
                   : empty ? t.ink2
                           : t.ink,
                   shown);
    draw_icon(pen_, Icon::next, {at.right() - 24, at.middle().y}, 18, pressed ? t.on_straw : t.tunic);
  });
}

void Blocks::own(float height, std::function<void(Rect)> draw) {
  blocks_.push_back({height, std::move(draw)});
}

float Blocks::height() const {
  float sum = 0;
  for (const Block& block : blocks_) sum += block.height + between;
  return std::max(0.0F, sum - between);
}

void Blocks::draw(std::string_view panel, Rect area) {
  float y = pen_.begin_scroll(panel, area, height());
  for (const Block& block : blocks_) {
    const Rect at{area.x, y, area.w, block.height};
    y += block.height + between;
    // Out of sight, but listed still for the keyboard that walks through the panel.
    block.draw(at);
  }
  pen_.end_scroll(panel);
}

void draw_digit_pad(Pen& pen, Rect area, std::string& digits, std::size_t longest, std::string_view done_words,
                    bool& done) {
  const Theme& t = pen.theme;
  const float w = (area.w - 2 * gap) / 3;
  const float h = (area.h - 3 * gap) / 4;
  const auto cell = [&](int column, int row) {
    return Rect{area.x + static_cast<float>(column) * (w + gap), area.y + static_cast<float>(row) * (h + gap), w, h};
  };
  for (int digit = 0; digit <= 9; ++digit) {
    const Rect key = digit == 0 ? cell(1, 3) : cell((digit - 1) % 3, (digit - 1) / 3);
    const std::string name = "digit:" + std::to_string(digit);
    bool tapped = pen.touch.hit(name, key, true, TapKind::count);
    if (pen.touch.take_character(static_cast<char>('0' + digit))) tapped = true;
    const bool pressed = is_pressed(pen, name);
    pen.fill(key, pressed ? t.straw : t.sheet, 6);
    pen.frame(key, pressed ? t.on_straw : t.edge);
    const Type type = h >= 76 ? Type::numeral_40 : Type::heading_36;
    pen.text_in(key, type, pressed ? t.on_straw : t.ink, std::to_string(digit), Align::middle);
    // A nought in front says nothing.
    if (tapped && digits.size() < longest && (digit != 0 || !digits.empty())) digits += static_cast<char>('0' + digit);
  }
  const bool can_undo = !digits.empty();
  if (draw_act(pen, cell(0, 3), {"digit:undo", "", ActStyle::square, Icon::undo, can_undo, TapKind::count}) && can_undo)
    digits.pop_back();
  if (can_undo && pen.touch.take_key(Key::backspace)) digits.pop_back();
  done = draw_act(pen, cell(2, 3), {"digit:done", done_words, ActStyle::quiet, {}, true});
}

}  // namespace motherbulb
