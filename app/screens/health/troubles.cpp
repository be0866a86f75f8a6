// What each trouble looks like and what growers do about it.

#include <algorithm>

#include "app/screens/health/parts.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/see_tiles.hpp"
#include "app/words.hpp"
#include "app/words/health.hpp"
#include "core/health/troubles.hpp"

namespace motherbulb::health {
namespace {

std::optional<std::size_t> row_of(const DamagePicture& damage, const std::string& key) {
  for (std::size_t i = 0; i < damage.rows().size(); ++i) {
    if (damage.rows()[i].key == key) return i;
  }
  return std::nullopt;
}

void draw_list(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  HealthDraft& draft = view.ui.health;
  constexpr float pitch = 64;
  const auto& all = troubles();
  const std::size_t columns = area.w >= 640 ? 2 : 1;
  const float wide = (area.w - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
  const std::size_t lines = (all.size() + columns - 1) / columns;
  const float top = pen.begin_scroll("troubles", area, pitch * static_cast<float>(lines));
  for (std::size_t i = 0; i < all.size(); ++i) {
    const Rect key{area.x + static_cast<float>(i % columns) * (wide + gap),
                   top + pitch * static_cast<float>(i / columns), wide, pitch - gap};
    if (key.bottom() < area.y || key.y > area.bottom()) continue;
    const Trouble& one = all[i];
    const std::string target = "look:" + one.id;
    if (pen.touch.hit(target, key)) {
      draft.trouble = one.id;
      pen.touch.scroll_to("trouble", 0);
    }
    const bool pressed = is_pressed(pen, target);
    const bool on = draft.trouble == one.id && !pressed;
    pen.label(key, Stake::right, pressed ? t.straw : on ? t.ink : t.sheet, pressed ? t.on_straw : t.edge);
    const Color ink = pressed ? t.on_straw : on ? t.on_ink : t.ink;
    draw_icon(pen, seen_icon(one.cause, one.id), {key.x + 30, key.middle().y}, 30, pressed || on ? ink : t.copper);
    const auto row = row_of(draft.damage, one.id);
    float end = key.right() - 28;
    if (row) {
      const std::string count = grouped(draft.damage.rows()[*row].all.pots);
      pen.text_in({key.x, key.y, end - key.x, key.h}, Type::heading_20, ink, count, Align::right);
      end -= pen.width(Type::heading_20, count) + 10;
    }
    const float room = end - key.x - 58;
    const Type type = pen.fitting({Type::heading_20, Type::heading_18}, one.name, room);
    if (pen.width(type, one.name) <= room) {
      pen.text_in({key.x + 58, key.y, room, key.h}, type, ink, one.name);
    } else {
      const float high = pen.paragraph_height(room, Type::strong_15, one.name, 2);
      pen.paragraph({key.x + 58, key.middle().y - high / 2, room, high}, Type::strong_15, ink, one.name, 2);
    }
  }
  pen.end_scroll("troubles");
}

std::optional<Wish> draw_one(ScreenView& view, Rect area, const Trouble& trouble) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const HealthWords& w = health_words();
  HealthDraft& draft = view.ui.health;
  const bool landscape = view.layout.landscape();
  std::optional<Wish> wish;
  pen.fill(area, t.sheet, 8);
  Rect inside = area.inset(view.layout.phone() ? 16 : 24, 16);
  Rect head = inside.take_top(56, 10);
  if (!landscape && draw_icon_key(pen, head.take_left(56, 12), "look:close", Icon::back)) draft.trouble.reset();
  draw_icon(pen, seen_icon(trouble.cause, trouble.id), {head.x + 20, head.middle().y}, 36, t.copper);
  const float room = head.w - 52;
  const Type type =
      pen.fitting({Type::heading_28, Type::heading_24, Type::heading_20, Type::heading_18}, trouble.name, room);
  pen.text_in({head.x + 52, head.y, room, head.h}, type, t.ink, trouble.name);

  std::vector<Block> blocks;
  const float wide = inside.w;
  const auto told = [&](std::string_view title, const std::string& text) {
    if (text.empty()) return;
    blocks.push_back({26, [&pen, title](Rect at) {
                        pen.text_in({at.x, at.y, at.w, 22}, Type::strong_16, pen.theme.ink2, title);
                      }});
    blocks.push_back(paragraph_block(pen, wide, Type::body_18, t.ink, text, 14));
  };
  told(w.look_shows, trouble.shows);
  told(w.look_usual, trouble.usual);
  if (trouble.never_cut) blocks.push_back(caution_block(pen, wide, std::string(w.look_never_cut)));
  if (trouble.notify) blocks.push_back(caution_block(pen, wide, std::string(w.look_notify)));
  if (!trouble.caution.empty()) blocks.push_back(caution_block(pen, wide, trouble.caution));
  blocks.push_back(paragraph_block(pen, wide, Type::body_16, t.ink2, std::string(w.look_rules), 16));
  const auto row = row_of(draft.damage, trouble.id);
  std::vector<const DamagePicture::Note*> notes;
  if (row) notes = draft.damage.notes_of(row, std::nullopt, std::nullopt);
  if (notes.empty()) {
    blocks.push_back(paragraph_block(pen, wide, Type::body_16, t.ink2, std::string(w.look_seen_none), 10));
  } else {
    const std::string count = counted(static_cast<std::int64_t>(notes.size()), "pot", "pots");
    blocks.push_back(heading_block(pen, say(w.note_line, w.look_seen, say(w.look_seen_count, count))));
    // As many tags beside each other as there is room for, in rows of 64.
    constexpr float tag_wide = 156;
    const auto columns = std::max<std::size_t>(1, static_cast<std::size_t>((wide + gap) / (tag_wide + gap)));
    const std::size_t lines = (notes.size() + columns - 1) / columns;
    blocks.push_back({64.0F * static_cast<float>(lines) + 8, [&view, &wish, notes, columns](Rect at) {
                        Pen& p = view.pen;
                        for (std::size_t i = 0; i < notes.size(); ++i) {
                          const Rect key{at.x + static_cast<float>(i % columns) * (tag_wide + gap),
                                         at.y + 64.0F * static_cast<float>(i / columns), tag_wide, 56};
                          if (key.bottom() < 0 || key.y > view.layout.window.bottom()) continue;
                          const std::string target = "seen:" + notes[i]->label;
                          if (p.touch.hit(target, key)) wish = go_to_pot(notes[i]->pot);
                          if (is_pressed(p, target)) p.fill(key, p.theme.straw, 6);
                          draw_pot_tag(p, {key.x + 2, key.middle().y - 19}, 38, notes[i]->label, tag_wide - 4);
                        }
                      }});
  }
  if (!trouble.source.empty())
    blocks.push_back(paragraph_block(pen, wide, Type::body_15, t.ink2, say(w.look_source, trouble.source), 4));
  draw_blocks(pen, "trouble", inside, blocks);
  return wish;
}

}  // namespace

std::optional<Wish> draw_troubles(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  HealthDraft& draft = view.ui.health;
  draft.damage.refresh(view.rows.book(), view.today);
  const Trouble* opened = draft.trouble ? trouble_of(*draft.trouble) : nullptr;
  if (!view.layout.landscape()) {
    if (opened != nullptr) return draw_one(view, area, *opened);
    draw_list(view, area);
    return std::nullopt;
  }
  const auto [left, right] = view.layout.columns(area, 0.42F);
  draw_list(view, left);
  if (opened == nullptr && !troubles().empty()) opened = &troubles().front();
  if (opened != nullptr) return draw_one(view, right, *opened);
  pen.paragraph(right.inset(24), Type::body_18, pen.theme.ink2, health_words().look_choose);
  return std::nullopt;
}

}  // namespace motherbulb::health
