// The camera reads a parcel's codes off another screen: where its picture comes, and which codes it has seen.

#include <algorithm>

#include "app/screens/screens.hpp"
#include "app/widgets/labels.hpp"
#include "app/words.hpp"
#include "app/words/codes.hpp"

namespace motherbulb {
namespace {

constexpr std::size_t most_named = 6;  // missing codes, by their numbers

// Marks for so many codes, as large as they have room.
struct Marks {
  float side = 0, gap = 0;
  std::size_t columns = 1, rows = 0;
  [[nodiscard]] float height() const { return rows == 0 ? 0 : static_cast<float>(rows) * (side + gap) - gap; }
};

Marks marks_for(std::size_t count, float width, float height) {
  Marks marks;
  for (const float side : {28.0F, 22.0F, 16.0F, 11.0F, 7.0F}) {
    marks.side = side;
    marks.gap = std::max(3.0F, side * 0.28F);
    marks.columns = std::max<std::size_t>(1, static_cast<std::size_t>((width + marks.gap) / (side + marks.gap)));
    marks.rows = (count + marks.columns - 1) / marks.columns;
    if (marks.height() <= height) break;
  }
  return marks;
}

void draw_marks(Pen& pen, Rect area, const Marks& marks, const CodeCollector& collector) {
  const Theme& t = pen.theme;
  for (std::size_t i = 0; i < collector.count(); ++i) {
    const Rect mark{area.x + static_cast<float>(i % marks.columns) * (marks.side + marks.gap),
                    area.y + static_cast<float>(i / marks.columns) * (marks.side + marks.gap), marks.side, marks.side};
    if (collector.has(i + 1)) {
      pen.fill(mark, t.leaf_fill, 3);
    } else {
      pen.frame(mark, t.edge, 2, 3);
    }
  }
}

std::string missing_words(const CodeCollector& collector) {
  const CodesWords& w = codes_words();
  const std::vector<std::size_t> missing = collector.missing();
  if (missing.empty() || missing.size() > most_named || collector.have() == 0) return std::string(w.read_on);
  std::string numbers;
  for (const std::size_t nth : missing) numbers += (numbers.empty() ? "" : ", ") + std::to_string(nth);
  return say(w.read_missing, numbers);
}

float words_height(Pen& pen, float width, const ScanDraft& draft, float of_marks) {
  const CodesWords& w = codes_words();
  const float note = draft.newer ? pen.paragraph_height(width, Type::body_16, w.read_newer, 4) + 8 : 0;
  if (draft.collector.count() == 0) return 34 + 4 + pen.paragraph_height(width, Type::body_16, w.read_there, 4) + note;
  return 52 + 8 + of_marks + 10 + pen.paragraph_height(width, Type::body_16, missing_words(draft.collector), 3) + note;
}

void draw_words(Pen& pen, Rect area, const ScanDraft& draft, const Marks& marks) {
  const CodesWords& w = codes_words();
  const Theme& t = pen.theme;
  const CodeCollector& collector = draft.collector;
  if (collector.count() == 0) {
    pen.text_in(area.take_top(34, 4), Type::heading_24, t.ink, w.read_none);
    area.take_top(pen.paragraph(area, Type::body_16, t.ink2, w.read_there, 4), 8);
  } else {
    pen.text_in(area.take_top(52, 8), Type::numeral_40, t.tunic, say(w.of, collector.have(), collector.count()));
    draw_marks(pen, area.take_top(marks.height(), 10), marks, collector);
    area.take_top(pen.paragraph(area, Type::body_16, t.ink2, missing_words(collector), 3), 8);
  }
  if (draft.newer) pen.paragraph(area, Type::body_16, t.copper, w.read_newer, 4);
}

// The corners that a code is held into.
void draw_corners(Pen& pen, Rect area) {
  const float arm = std::min(44.0F, std::min(area.w, area.h) / 4);
  for (const bool right : {false, true}) {
    for (const bool low : {false, true}) {
      const Point corner{right ? area.right() : area.x, low ? area.bottom() : area.y};
      const float across = right ? -arm : arm, down = low ? -arm : arm;
      pen.path({{corner.x, corner.y + down}, corner, {corner.x + across, corner.y}}, pen.theme.edge, 4);
    }
  }
}

std::optional<Wish> draw_picture(ScreenView& view, Rect area) {
  const CodesWords& w = codes_words();
  Pen& pen = view.pen;
  ScanDraft& draft = view.ui.scan;
  std::optional<Wish> wish;
  pen.fill(area, pen.theme.well, 8);
  draw_corners(pen, area.inset(20));
  draft.picture = draft.running ? area : Rect{};
  const float wide = std::min(320.0F, area.w - 56);
  Rect middle{area.middle().x - wide / 2, area.middle().y - 50, wide, 100};
  if (draft.running) {
    pen.paragraph(middle.inset(0, 30), Type::body_18, pen.theme.ink, w.read_starting, 2, Align::middle);
    return wish;
  }
  pen.text_in(middle.take_top(28, 8), Type::body_18, pen.theme.ink, w.read_stopped, Align::middle);
  if (draw_act(pen, middle, {"scan:start", w.camera_start, ActStyle::main, {}, true})) wish = StartCamera{};
  return wish;
}

}  // namespace

std::optional<Wish> draw_scan_screen(ScreenView& view) {
  const CodesWords& w = codes_words();
  Pen& pen = view.pen;
  Layout& l = view.layout;
  ScanDraft& draft = view.ui.scan;
  std::optional<Wish> wish =
      draw_top(view, {std::string(w.read_title), std::string(w.read_second), true, false, false, false});
  if (l.content.w > l.content.h) {
    Layout::Columns split = l.columns(l.content, 0.58F, 28);
    Rect panel = split.acting;
    pen.fill(panel, pen.theme.sheet, 8);
    const Rect inside = panel.inset(24);
    draw_words(pen, inside, draft, marks_for(draft.collector.count(), inside.w, inside.h - 220));
    if (auto asked = draw_picture(view, split.reading)) wish = std::move(asked);
    return wish;
  }
  Rect rest = l.content;
  const Marks marks = marks_for(draft.collector.count(), rest.w, l.phone() ? 90.0F : 160.0F);
  const float words = words_height(pen, rest.w, draft, marks.height());
  Rect below = rest.take_bottom(words, 16);
  // No taller than wide by much: a code is square.
  Rect picture = rest;
  picture.h = std::min(rest.h, rest.w * 1.25F);
  below.y = picture.bottom() + 16;
  if (auto asked = draw_picture(view, picture)) wish = std::move(asked);
  draw_words(pen, below, draft, marks);
  return wish;
}

}  // namespace motherbulb
