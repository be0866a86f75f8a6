// Three questions before the first day, one at a time: who are you, what is this device called, where does the house
// stand. What can be asked later can be left for later.

#include <algorithm>
#include <cmath>

#include "app/screens/device_name.hpp"
#include "app/screens/screens.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/letters.hpp"
#include "app/widgets/slips.hpp"
#include "app/words.hpp"
#include "app/words/house.hpp"

namespace motherbulb {
namespace {

constexpr int questions = 3;
constexpr float act = 68;

// How far one has come: a bulb for each question, filled where it is answered, on straw where one is.
void draw_steps(Pen& pen, Point right_middle, int at) {
  const Theme& t = pen.theme;
  for (int i = 0; i < questions; ++i) {
    const Point m{right_middle.x - static_cast<float>(questions - 1 - i) * 36 - 16, right_middle.y};
    if (i == at) pen.disc(m, 17, t.straw);
    const Color color = i == at ? t.on_straw : t.tunic;
    if (i < at) {
      pen.disc(m, 11, color);
    } else {
      pen.ring(m, 11, color, 2.4F);
      pen.ring(m, 5, color, 1.6F);
    }
  }
}

struct Question {
  std::string_view title, line;
};

Question question_of(int at) {
  const HouseWords& w = house_words();
  if (at == 0) return {w.first_who, w.first_who_line};
  if (at == 1) return {w.first_device, w.first_device_line};
  return {w.first_house, w.first_house_line};
}

float question_height(ScreenView& view, float width, const Question& question) {
  const Type title = view.layout.phone() ? Type::heading_28 : Type::heading_36;
  return view.pen.paragraph_height(width, title, question.title, 3) + 8 +
         view.pen.paragraph_height(width, Type::body_18, question.line, 4) + 20;
}

void draw_question(ScreenView& view, Rect area, const Question& question) {
  const Type title = view.layout.phone() ? Type::heading_28 : Type::heading_36;
  area.take_top(view.pen.paragraph(area, title, view.pen.theme.ink, question.title, 3), 8);
  view.pen.paragraph(area, Type::body_18, view.pen.theme.ink2, question.line, 4);
}

// The globe with the half that is meant, and its house.
void draw_half(Pen& pen, Point m, float r, bool south, Color line, Color ground) {
  std::vector<Point> half;
  const float from = south ? 0.0F : 3.14159265F;
  for (int i = 0; i <= 32; ++i) {
    const float angle = from + 3.14159265F * static_cast<float>(i) / 32;
    half.push_back({m.x + r * std::cos(angle), m.y + r * std::sin(angle)});
  }
  pen.fill_convex(half, ground);
  pen.ring(m, r, line, 3);
  pen.line({m.x - r, m.y}, {m.x + r, m.y}, line, 3);
  for (const float at : {-0.5F, 0.5F}) {
    const float w = r * std::sqrt(1 - at * at);
    pen.line({m.x - w, m.y + r * at}, {m.x + w, m.y + r * at}, line, 1.6F);
  }
  draw_icon(pen, Icon::start, {m.x, m.y + (south ? 0.5F : -0.5F) * r}, r * 0.5F, line);
}

constexpr float half_height_wide = 380, half_height_portrait = 420, half_height_phone = 170;

bool draw_half_key(Pen& pen, Rect at, std::string_view name, bool south, bool chosen) {
  const HouseWords& w = house_words();
  const Theme& t = pen.theme;
  const bool tapped = pen.touch.hit(name, at);
  const bool straw = chosen || is_pressed(pen, name);
  pen.fill(at, straw ? t.straw : t.sheet, 8);
  pen.frame(at, straw ? t.on_straw : t.edge, 2, 8);
  const Color ink = straw ? t.on_straw : t.ink;
  const Color second = straw ? t.on_straw : t.ink2;
  const bool beside = at.h < 200;
  const float r = beside ? at.h * 0.34F : std::min(124.0F, at.h * 0.3F);
  const Point m = beside ? Point{at.x + 20 + r, at.middle().y} : Point{at.middle().x, at.y + 24 + r};
  draw_half(pen, m, r, south, ink, straw ? t.paper : t.ring);
  const Rect words_at = beside ? Rect{m.x + r + 20, at.y, at.right() - m.x - r - 32, at.h}
                               : Rect{at.x + 12, m.y + r + 16, at.w - 24, at.bottom() - m.y - r - 28};
  const Align align = beside ? Align::left : Align::middle;
  const float top = beside ? words_at.middle().y - 44 : words_at.y;
  pen.text_in({words_at.x, top, words_at.w, 36}, Type::heading_28, ink, south ? w.first_south : w.first_north, align);
  pen.paragraph({words_at.x, top + 38, words_at.w, 60}, Type::body_16, second,
                south ? w.first_south_months : w.first_north_months, 2, align);
  return tapped;
}

}  // namespace

std::optional<Wish> draw_first_screen(ScreenView& view) {
  const HouseWords& w = house_words();
  Pen& pen = view.pen;
  Layout& l = view.layout;
  HouseDraft& draft = view.ui.house;
  std::optional<Wish> wish;
  const int at = std::clamp(draft.question, 0, questions - 1);

  // Lying, the question stands in the head: there is no room to lose below it.
  const Question question = question_of(at);
  const bool in_head = l.landscape();
  const bool back = at > 0;
  const std::string second = in_head     ? std::string(question.line)
                             : l.phone() ? say(w.first_of, at + 1, questions)
                                         : std::string(w.first_welcome_line);
  const std::string_view title = in_head ? question.title : w.first_welcome;
  if (draw_head(pen, l, {title, second, back, false, 124, {}, false}).back) --draft.question;
  draw_steps(pen, {l.head.right(), l.phone() ? 38.0F : l.portrait() ? 56.0F : 52.0F}, at);
  if (draw_trouble(view)) wish = PutErrorAside{};
  if (const auto asked = draw_asked(view)) wish = asked;

  const float width = at == 1 ? l.content.w : std::min(l.content.w, 920.0F);
  const float x = l.content.x + (l.content.w - width) / 2;
  const Rect panel{l.page.x, l.content.y, l.page.w, l.page.bottom() - l.content.y};
  const float head = in_head ? 0.0F : question_height(view, width, question);
  const bool narrow = width < 620;
  float body = 0;
  if (at == 0) {
    body = text_entry_height(narrow) + 16 + act;
  } else if (at == 1) {
    body = device_name_height(view, width);
  } else if (narrow) {
    body = 2 * half_height_phone + 12;
  } else {
    body = l.portrait() ? half_height_portrait : half_height_wide;
  }
  // Beside the act that keeps where there is room, else below it.
  const bool later_beside = !narrow;
  const float skip = at < 2 && !later_beside ? 12 + 60.0F : 0.0F;
  const float content = head + body + skip + 20;
  const float spare = std::max(0.0F, panel.h - content);
  const std::string scroll = "first:" + std::to_string(at);
  Rect inside{x, pen.begin_scroll(scroll, panel, content), width, content};
  // Where there is room left, the whole stands a little above the middle.
  inside.y += l.phone() ? 0.0F : spare * 0.34F;
  if (!in_head) draw_question(view, inside.take_top(head), question);
  Rect later{inside.x, inside.y + body + 12, std::min(width, 240.0F), 60};
  if (later_beside) later = {inside.right() - 200, inside.y + body - act, 200, act};

  if (at == 0) {
    const bool enter = draw_text_entry(pen, inside.take_top(text_entry_height(narrow), 16),
                                       {"letter", w.first_who_type, 40, true}, draft.first_name, narrow);
    const std::string name = without_ends(draft.first_name);
    const std::string text = name.empty() ? std::string(words().who_keep_empty) : say(w.first_who_keep, name);
    Rect keep = inside.take_top(act);
    if (later_beside) keep.w -= later.w + 12;
    if (draw_act(pen, keep, {"first:keep", text, ActStyle::main, Icon::tick, !name.empty()}) ||
        (enter && !name.empty())) {
      wish = BeHelper{name};
      draft.question = 1;
    }
  } else if (at == 1) {
    if (const auto asked = draw_device_name(view, inside.take_top(body), later_beside ? later.w + 12 : 0.0F,
                                            [](UiState& ui) { ui.house.question = 2; }))
      wish = asked;
  } else {
    Rect halves = inside.take_top(body);
    const Rect north = narrow ? halves.take_top(half_height_phone, 12) : halves.take_left((halves.w - 16) / 2, 16);
    const bool to_north = draw_half_key(pen, north, "first:north", false, false);
    const bool to_south = draw_half_key(pen, halves, "first:south", true, false);
    if (to_north || to_south) {
      // The app leaves this screen with the last answer.
      Settings settings = view.ui.settings;
      settings.south = to_south;
      wish = Configure{settings};
    }
  }
  if (at < 2 && draw_act(pen, later, {"first:later", w.first_skip, ActStyle::quiet, {}, true})) ++draft.question;
  pen.end_scroll(scroll);
  return wish;
}

}  // namespace motherbulb
