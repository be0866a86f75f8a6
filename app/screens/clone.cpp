// One clone: its descent as a tree of tags, every bulb accounted for, its batches with their pots, and its name.

#include <algorithm>
#include <cmath>
#include <map>

#include "app/screens/screens.hpp"
#include "app/widgets/balance.hpp"
#include "app/widgets/descent.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/letters.hpp"
#include "app/widgets/mother.hpp"
#include "app/widgets/slips.hpp"
#include "app/words.hpp"
#include "app/words/clones.hpp"
#include "core/names.hpp"

namespace motherbulb {
namespace {

constexpr float gap = 12;

bool same_name(const std::string& a, const std::string& b) {
  return a == b || folded_name(a) == folded_name(b);
}

// Its balance; null where no batch of it is in the book. Follows the clone to the name it has now.
const CloneBalance* find_clone(ScreenView& view) {
  Subject& about = view.ui.about;
  ClonesDraft& draft = view.ui.clones;
  if (about.batch && about.clone.empty()) {
    if (const BatchState* batch = view.rows.batch(*about.batch)) {
      about.clone = batch->clone;
      about.genus = batch->genus;
    }
  }
  if (draft.known_by && draft.known_clone == about.clone && draft.known_genus == about.genus) {
    const BatchState* batch = view.rows.batch(*draft.known_by);
    if (batch != nullptr && batch->begun) {
      about.clone = batch->clone;
      about.genus = batch->genus;
    }
  }
  for (const CloneBalance& one : view.rows.stock().balance) {
    if (!same_name(one.clone, about.clone) || !same_name(one.genus, about.genus)) continue;
    about.clone = one.clone;
    about.genus = one.genus;
    return &one;
  }
  return nullptr;
}

// ------------------------------------------------------------------------------------------------ descent

std::string begun_words(const BatchState& batch) {
  const ClonesWords& w = clones_words();
  const std::string count = grouped(batch.mothers);
  if (leaves_mother_whole(batch.method)) return say(w.cut_whole, count, batch.sections);
  if (cuts(batch.method)) return say(w.cut_into, count, batch.sections);
  if (batch.method == Method::offsets) return say(w.offsets, count);
  return say(batch.parent ? w.grown_on : w.first_bulbs, count);
}

struct Holds {
  std::int64_t bulbs = 0, pieces = 0;
};
Holds holds_of(const BookRows& rows, const BatchState& batch) {
  Holds holds{total(batch.bulbs_waiting), batch.pieces_waiting};
  for (const PotView* pot : rows.filled_of(batch.id)) {
    holds.bulbs += pot->bulbs;
    holds.pieces += pot->pot.pieces;
  }
  return holds;
}

// What took most of a batch of which nothing is left and nothing went on; none: it was cut, sold, given or grown on.
std::optional<Cause> lost_to(const Logbook& book, const BatchState& batch) {
  BulbBalance bulbs = batch.bulb_balance;
  PieceBalance pieces = batch.piece_balance;
  for (const PotState& pot : book.pots_of(batch.id)) {
    bulbs += pot.bulb_balance;
    pieces += pot.piece_balance;
  }
  // Between pot and batch nothing goes on.
  const std::int64_t on =
      bulbs.cut + bulbs.sold + bulbs.given + bulbs.discarded + std::max<std::int64_t>(0, bulbs.taken - bulbs.brought);
  const bool new_and_cut = cuts(batch.method) && !batch.parent;  // its mothers are booked as cut in the batch itself
  if (on > (new_and_cut ? batch.mothers : 0)) return std::nullopt;
  if (total(bulbs.lost) + total(pieces.lost) == 0) return std::nullopt;
  std::size_t most = 0;
  for (std::size_t i = 0; i < cause_count; ++i) {
    if (bulbs.lost[i] + pieces.lost[i] > bulbs.lost[most] + pieces.lost[most]) most = i;
  }
  return static_cast<Cause>(most);
}

std::string target_of(const BatchState& batch) {
  // Two batches may bear one label.
  return "batch:" + (batch.label.empty() ? batch.mark : batch.label) + ":" + hex(batch.id).substr(0, 6);
}

void refresh_descent(ScreenView& view) {
  auto& descent = view.ui.clones.descent;
  const Subject& about = view.ui.about;
  // A tree to the right shows every year where there is room for it.
  const float wide = view.layout.landscape() ? view.layout.content.w : 0.0F;
  if (descent.tree && descent.tree->arranged_for == wide && descent.revision == view.rows.revision() &&
      descent.clone == about.clone && descent.genus == about.genus)
    return;
  const ClonesWords& w = clones_words();
  std::vector<const BatchState*> batches;
  for (const BatchState* batch : view.rows.batches()) {
    if (batch->begun && batch->clone == about.clone && batch->genus == about.genus) batches.push_back(batch);
  }
  std::sort(batches.begin(), batches.end(), [](const BatchState* a, const BatchState* b) {
    if (a->begun_on.utc_ms != b->begun_on.utc_ms) return a->begun_on.utc_ms < b->begun_on.utc_ms;
    return a->id < b->id;
  });
  std::map<BatchId, std::size_t> index;
  for (std::size_t i = 0; i < batches.size(); ++i) index[batches[i]->id] = i;
  auto tree = std::make_shared<DescentTree>();
  descent = {};
  for (const BatchState* batch : batches) {
    DescentTag tag;
    tag.target = target_of(*batch);
    tag.label = batch_words(*batch);
    const Holds holds = holds_of(view.rows, *batch);
    tag.pieces = holds.bulbs == 0 && holds.pieces > 0;
    tag.weight = tag.pieces ? holds.pieces : holds.bulbs;
    tag.count = grouped(tag.weight);
    tag.year = civil(local_day(batch->begun_on)).year;
    tag.held = batch->held;
    tag.line = begun_words(*batch);
    tag.short_line = tag.line;
    if (batch->held) tag.short_line = w.held;
    if (batch->held) tag.line = batch->held_reason.empty() ? std::string(w.held) : batch->held_reason;
    if (tag.weight == 0) {
      if (const auto cause = lost_to(view.rows.book(), *batch)) {
        tag.lost = true;
        tag.line = say(w.lost_to, name_of(*cause));
        tag.short_line = name_of(*cause);
      }
    }
    if (batch->parent) {
      const auto parent = index.find(*batch->parent);
      if (parent != index.end()) tag.parent = parent->second;
    }
    descent.since = descent.since == 0 ? tag.year : std::min(descent.since, tag.year);
    descent.bulbs += holds.bulbs;
    tree->tags.push_back(std::move(tag));
  }
  tree->arranged_for = wide;
  tree->arrange(wide > 0);
  if (wide > 0 && descent_form(*tree, wide, false) == DescentForm::list) tree->arrange(false);
  for (DescentColumn& column : tree->columns) {
    if (column.years == 1) {
      column.head = std::to_string(column.first_year);
    } else if (column.years == 2) {
      column.head = say(w.years_two, column.first_year, column.last_year);
    } else if (column.years > 2) {
      column.head = say(w.years_more, column.first_year, column.last_year);
    }
  }
  descent.revision = view.rows.revision();
  descent.clone = about.clone;
  descent.genus = about.genus;
  descent.batches = static_cast<std::int64_t>(batches.size());
  descent.tree = std::move(tree);
  if (!batches.empty()) {
    view.ui.clones.known_by = batches.front()->id;
    view.ui.clones.known_clone = about.clone;
    view.ui.clones.known_genus = about.genus;
  }
}

// ------------------------------------------------------------------------------------------------ balance

void add_lost(BalanceView& balance, const LossByCause& lost) {
  for (std::size_t i = 0; i < lost.size(); ++i) {
    balance.parts.push_back(
        {BalancePart::Kind::lost, lost[i], say(clones_words().lost, grouped(lost[i]), name_of(static_cast<Cause>(i)))});
  }
}

BalanceView bulbs_of(const CloneBalance& clone, std::int32_t since) {
  const ClonesWords& w = clones_words();
  using Kind = BalancePart::Kind;
  const BulbBalance& b = clone.bulbs;
  BalanceView view;
  view.in = b.begun + b.increase;
  view.in_words = say(w.in_since, counted(view.in, w.bulb, w.bulbs), since);
  view.parts.push_back({Kind::there, b.there, say(w.there, grouped(b.there))});
  view.parts.push_back({Kind::out, b.cut, say(w.cut, grouped(b.cut))});
  view.parts.push_back({Kind::out, b.sold, say(w.sold, grouped(b.sold))});
  view.parts.push_back({Kind::out, b.given, say(w.given, grouped(b.given))});
  view.parts.push_back({Kind::out, b.discarded, say(w.discarded, grouped(b.discarded))});
  add_lost(view, b.lost);
  view.parts.push_back({Kind::open, b.open, say(b.open < 0 ? w.beyond : w.open, grouped(std::abs(b.open)))});
  return view;
}

BalanceView pieces_of(const CloneBalance& clone) {
  const ClonesWords& w = clones_words();
  using Kind = BalancePart::Kind;
  const PieceBalance& p = clone.pieces;
  BalanceView view;
  view.in = p.made;
  view.in_words = say(w.pieces_in, counted(p.made, w.piece, w.pieces));
  view.parts.push_back({Kind::there, p.growing, say(w.growing, grouped(p.growing))});
  view.parts.push_back({Kind::there, p.waiting, say(w.waiting, grouped(p.waiting))});
  view.parts.push_back({Kind::out, p.alive, say(w.alive, grouped(p.alive))});
  add_lost(view, p.lost);
  view.parts.push_back({Kind::open, p.open, say(p.open < 0 ? w.beyond : w.unseen, grouped(std::abs(p.open)))});
  return view;
}

struct BalancePanel {
  BalanceView bulbs;
  std::optional<BalanceView> pieces;
  bool beside = false;
  float height = 0;
};

constexpr float bar_title = 40;

float pieces_share(float width) {
  return (width - 28) * 0.4F;
}

BalancePanel balance_panel(Pen& pen, const CloneBalance& clone, std::int32_t since, float width, bool phone) {
  BalancePanel panel;
  panel.bulbs = bulbs_of(clone, since);
  if (clone.pieces.made > 0 || clone.pieces.growing > 0) panel.pieces = pieces_of(clone);
  const float across = phone ? 16.0F : 26.0F;
  const float inside = width - 2 * across;
  panel.beside = panel.pieces && inside > 700;
  const float open_line = phone ? 24.0F : 0.0F;
  const float bulbs_wide = panel.beside ? inside - 28 - pieces_share(inside) : inside;
  const float bulbs = bar_title + open_line + balance_height(pen, bulbs_wide, panel.bulbs);
  float pieces = 0;
  if (panel.pieces)
    pieces = bar_title + balance_height(pen, panel.beside ? pieces_share(inside) : inside, *panel.pieces);
  panel.height = 32 + (panel.beside ? std::max(bulbs, pieces) : bulbs + (panel.pieces ? pieces + 8 : 0));
  return panel;
}

void draw_bar_of(Pen& pen, Rect area, std::string_view title, const std::string& said, bool open, bool below,
                 const BalanceView& balance) {
  const Theme& t = pen.theme;
  Rect line = area.take_top(bar_title);
  line.h = 28;
  pen.text_in(line, pen.fitting({Type::heading_24, Type::heading_20}, title, line.w), t.ink, title);
  if (!said.empty()) {
    const Rect at = below ? area.take_top(24) : line;
    pen.text_in({at.x, at.y, at.w, below ? 20.0F : at.h}, open ? Type::strong_16 : Type::body_16,
                open ? t.tunic : t.ink2, said, below ? Align::left : Align::right);
  }
  draw_balance(pen, area, balance);
}

void draw_balances(Pen& pen, Rect area, const CloneBalance& clone, const BalancePanel& panel, bool phone) {
  const ClonesWords& w = clones_words();
  pen.fill(area, pen.theme.sheet, 8);
  Rect inside = area.inset(phone ? 16.0F : 26.0F, 16 + std::max(0.0F, (area.h - panel.height) / 2));
  const bool open = clone.bulbs.open != 0;
  const std::string said = open ? say(w.open_some, grouped(std::abs(clone.bulbs.open))) : std::string(w.open_none);
  if (panel.beside) {
    const Rect right = inside.take_right(pieces_share(inside.w), 28);
    draw_bar_of(pen, inside, w.balance_title, said, open, false, panel.bulbs);
    draw_bar_of(pen, right, w.pieces_title, {}, false, false, *panel.pieces);
    return;
  }
  const float bulbs = bar_title + (phone ? 24.0F : 0.0F) + balance_height(pen, inside.w, panel.bulbs);
  draw_bar_of(pen, inside.take_top(bulbs, 8), w.balance_title, said, open, phone, panel.bulbs);
  if (panel.pieces) draw_bar_of(pen, inside, w.pieces_title, {}, false, false, *panel.pieces);
}

// ------------------------------------------------------------------------------------------------ the clone

Subject subject_of(const std::string& clone, const std::string& genus) {
  Subject about;
  about.clone = clone;
  about.genus = genus;
  return about;
}

std::optional<Wish> draw_clone_acts(ScreenView& view, Rect area) {
  const ClonesWords& w = clones_words();
  Pen& pen = view.pen;
  std::optional<Wish> wish;
  // In a row; where that is too narrow, the main one above; in a column all of them.
  const bool column = view.layout.landscape();
  const bool stacked = column || view.layout.phone();
  const Rect main = stacked ? area.take_top(64, gap) : area.take_left(std::min(320.0F, (area.w - 2 * gap) * 0.4F), gap);
  const float half = column ? area.w : std::min(260.0F, (area.w - gap) / 2);
  const Rect rename = column ? area.take_top(56, gap) : area.take_left(half, gap);
  const Rect other = column ? area.take_top(56) : area.take_left(half);
  if (draw_act(pen, main, {"cut", w.cut_from, ActStyle::main, Icon::cutting, true}))
    wish = Go{Screen::cut, subject_of(view.ui.about.clone, view.ui.about.genus)};
  if (draw_act(pen, rename, {"rename", w.rename, ActStyle::quiet, Icon::note, true})) {
    view.ui.clones.renaming = true;
    view.ui.clones.name = view.ui.about.clone;
  }
  if (draw_act(pen, other, {"other", w.other, ActStyle::link, Icon::clones, true})) wish = Go{Screen::clones, {}};
  return wish;
}

void open_batch(ScreenView& view, std::size_t tag) {
  const auto& descent = view.ui.clones.descent;
  for (const BatchState* batch : view.rows.batches()) {
    if (!batch->begun || target_of(*batch) != descent.tree->tags[tag].target) continue;
    view.ui.about.batch = batch->id;
    view.ui.clones.from_tree = batch->id;
    view.pen.touch.scroll_to("batch", 0);
    return;
  }
}

std::optional<Wish> draw_descent_page(ScreenView& view, const CloneBalance& clone) {
  Pen& pen = view.pen;
  Layout& l = view.layout;
  ClonesDraft& draft = view.ui.clones;
  std::optional<Wish> wish;
  const DescentTree& tree = *draft.descent.tree;
  Rect area{l.content.x, l.content.y, l.content.w, l.page.bottom() - l.content.y};
  const float acts_high = l.phone() ? 64.0F + gap + 56 : 64.0F;
  const BalancePanel balance = balance_panel(pen, clone, draft.descent.since, area.w, l.phone());
  const DescentForm form = descent_form(tree, area.w, !l.landscape());
  std::optional<std::size_t> tapped;
  if (l.phone()) {
    const float tree_high = descent_height(tree, form, 0);
    // All on one page that scrolls: the tree first, as the list is the way in.
    const float content = tree_high + 20 + balance.height + 16 + acts_high + 20;
    const float top = pen.begin_scroll("clone", area, content);
    tapped = draw_descent(pen, area, top, tree, form);
    const Rect panel{area.x, top + tree_high + 20, area.w, balance.height};
    draw_balances(pen, panel, clone, balance, true);
    wish = draw_clone_acts(view, {area.x, panel.bottom() + 16, area.w, acts_high});
    pen.end_scroll("clone");
  } else {
    area.take_bottom(l.landscape() ? 24.0F : 16.0F);
    Rect foot;
    Rect acts;
    if (l.landscape()) {
      // The acts stand beside the balance, on the working hand's side.
      const float beside = 264;
      const float least = 64 + gap + 56 + gap + 56;
      const BalancePanel narrow = balance_panel(pen, clone, draft.descent.since, area.w - beside - 20, false);
      foot = area.take_bottom(std::max(narrow.height, least), 16);
      acts = l.left_hand ? foot.take_left(beside, 20) : foot.take_right(beside, 20);
      draw_balances(pen, foot, clone, narrow, false);
    } else {
      acts = area.take_bottom(acts_high, 20);
      foot = area.take_bottom(balance.height, 20);
      draw_balances(pen, foot, clone, balance, false);
    }
    wish = draw_clone_acts(view, acts);
    const float top = pen.begin_scroll("descent", area, descent_height(tree, form, area.h));
    tapped = draw_descent(pen, area, top, tree, form);
    pen.end_scroll("descent");
  }
  if (tapped) open_batch(view, *tapped);
  return wish;
}

// ------------------------------------------------------------------------------------------------ renaming

std::optional<Wish> draw_renaming(ScreenView& view) {
  const ClonesWords& w = clones_words();
  Pen& pen = view.pen;
  Layout& l = view.layout;
  ClonesDraft& draft = view.ui.clones;
  const Subject about = view.ui.about;
  std::optional<Wish> wish;
  Rect area{l.content.x, l.content.y, std::min(l.content.w, 760.0F), l.page.bottom() - l.content.y};
  const Rect panel = area;
  const std::string name = without_ends(draft.name);
  const bool same = name == about.clone;
  std::string note;
  if (same) {
    note = w.rename_same;
  } else {
    for (const CloneBalance& one : view.rows.stock().balance) {
      if (same_name(one.clone, name) && same_name(one.genus, about.genus) && !same_name(one.clone, about.clone))
        note = say(w.rename_joins, clone_words(one.clone));
    }
  }
  const float said = note.empty() ? 0.0F : pen.paragraph_height(area.w, Type::body_16, note, 3) + 12;
  area.h = std::max(text_entry_height(l.phone()) + said + 16 + 64, area.h - 24);
  area.y = pen.begin_scroll("rename", panel, area.h + 16);
  const Rect keep = area.take_bottom(64, 16);
  if (!note.empty()) pen.paragraph(area.take_bottom(said), Type::body_16, pen.theme.ink2, note, 3);
  const bool enter = draw_text_entry(pen, area, {"letter", w.rename_hint, 60, true}, draft.name, l.phone());
  const bool can = !name.empty() && !same;
  const std::string act =
      name.empty() || same ? std::string(w.rename_keep_empty) : say(w.rename_keep, clone_words(name));
  if (draw_act(pen, keep, {"rename:keep", act, ActStyle::main, Icon::tick, can}) || (enter && can)) {
    Keep one;
    CloneRenamed fact;
    fact.genus = about.genus;
    fact.from = about.clone;
    fact.to = name;
    one.commands = {fact_of({}, 0, fact)};
    one.slip = say(w.renamed, clone_words(about.clone), clone_words(name));
    one.after = [](UiState& ui, const std::vector<Receipt>&) {
      ui.clones.renaming = false;
      ui.clones.name.clear();
    };
    wish = one;
  }
  pen.end_scroll("rename");
  return wish;
}

// ------------------------------------------------------------------------------------------------ a batch

std::string mothers_words(const BatchState& batch) {
  const ClonesWords& w = clones_words();
  const bool cut = cuts(batch.method);
  const std::string count = counted(batch.mothers, cut ? w.mother : w.bulb, cut ? w.mothers : w.bulbs);
  if (!batch.mother_grade || !batch.mother_grade->sized()) return count;
  return say(w.mothers_of, count, grade_words(*batch.mother_grade));
}

std::vector<std::string> facts_of(const BatchState& batch) {
  const ClonesWords& w = clones_words();
  std::vector<std::string> facts{mothers_words(batch)};
  if (cuts(batch.method)) {
    if (batch.blade == Blade::per_bulb) facts.emplace_back(w.blade_bulb);
    if (batch.blade == Blade::per_batch) facts.emplace_back(w.blade_batch);
    if (batch.blade == Blade::not_disinfected) facts.emplace_back(w.blade_no);
  }
  if (!batch.medium.empty()) facts.push_back(say(w.in_medium, batch.medium));
  return facts;
}

std::string together(const std::vector<std::string>& facts) {
  std::string all;
  for (const std::string& one : facts) all += (all.empty() ? "" : ", ") + one;
  return all;
}

// A batch that this one comes from, or that came from it, on its tag.
std::optional<Wish> draw_kin(ScreenView& view, Rect area, const std::vector<const BatchState*>& kin) {
  Pen& pen = view.pen;
  std::optional<Wish> wish;
  float x = area.x;
  float y = area.y;
  for (const BatchState* batch : kin) {
    const std::string label = batch_words(*batch);
    const float w = std::max(56.0F, pot_tag_width(pen, 38, label));
    if (x > area.x && x + w > area.right()) {
      x = area.x;
      y += 64;
    }
    const Rect target{x, y, std::min(w, area.w), 56};
    const std::string name = "kin:" + target_of(*batch);
    if (pen.touch.hit(name, target)) view.ui.about.batch = batch->id;
    if (is_pressed(pen, name)) pen.fill(target, pen.theme.straw, 6);
    draw_pot_tag(pen, {x, y + 9}, 38, label, target.w);
    x += w + 12;
  }
  return wish;
}

float kin_height(Pen& pen, float width, const std::vector<const BatchState*>& kin) {
  float x = 0;
  float y = 56;
  for (const BatchState* batch : kin) {
    const float w = std::max(56.0F, pot_tag_width(pen, 38, batch_words(*batch)));
    if (x > 0 && x + w > width) {
      x = 0;
      y += 64;
    }
    x += w + 12;
  }
  return y;
}

std::optional<Wish> draw_facts(ScreenView& view, Rect area, const BatchState& batch, float* height) {
  const ClonesWords& w = clones_words();
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  std::optional<Wish> wish;
  std::vector<const BatchState*> parents;
  std::vector<const BatchState*> children;
  if (batch.parent) {
    const BatchState* parent = view.rows.batch(*batch.parent);
    if (parent != nullptr && parent->begun) parents.push_back(parent);
  }
  for (const BatchState* one : view.rows.batches()) {
    if (one->begun && one->parent == batch.id) children.push_back(one);
  }
  const std::string facts = together(facts_of(batch));
  const std::string day = day_near(local_day(batch.begun_on), view.today);
  const std::string by = batch.helper.empty() ? say(w.begun_on, day) : say(w.begun_by, day, batch.helper);
  std::string held;
  if (batch.held) held = batch.held_reason.empty() ? std::string(w.on_hold_plain) : say(w.on_hold, batch.held_reason);

  const bool measures = height != nullptr;
  const float inner = area.w - 40;
  const float picture = cuts(batch.method) ? 92.0F : 0.0F;
  float y = area.y + 16;
  if (!measures) {
    pen.fill(area, t.sheet, 8);
    if (picture > 0)
      draw_mother(pen, {area.right() - 20 - 40, area.y + 20 + 40}, 40,
                  {batch.sections, leaves_mother_whole(batch.method), {}});
    pen.text_in({area.x + 20, y, inner - picture, 32}, Type::heading_24, t.ink, name_of(batch.method));
    pen.text_in({area.x + 20, y + 34, inner - picture, 24}, Type::strong_18, t.ink, begun_words(batch));
  }
  y += picture > 0 ? 92.0F : 68.0F;
  const auto paragraph = [&](const std::string& words_of, Type type, Color color) {
    if (words_of.empty()) return;
    const float h = pen.paragraph_height(inner, type, words_of, 4);
    if (!measures) pen.paragraph({area.x + 20, y, inner, h}, type, color, words_of, 4);
    y += h + 6;
  };
  paragraph(facts, Type::body_16, t.ink2);
  paragraph(by, Type::body_16, t.ink2);
  paragraph(batch.note, Type::body_16, t.ink2);
  paragraph(held, Type::strong_16, t.tunic);
  y += 8;
  const auto kin = [&](std::string_view title, const std::vector<const BatchState*>& of) {
    if (!measures) pen.text_in({area.x + 20, y, inner, 24}, Type::heading_18, t.ink2, title);
    y += 26;
    if (of.empty()) return;
    if (!measures) {
      if (const auto asked = draw_kin(view, {area.x + 20, y, inner, 0}, of)) wish = asked;
    }
    y += kin_height(pen, inner, of) + 10;
  };
  kin(!parents.empty() ? w.comes_from : batch.parent ? w.parent_missing : w.no_parent, parents);
  if (!children.empty()) kin(w.led_to, children);
  if (measures) *height = y + 8 - area.y;
  return wish;
}

struct PotCells {
  std::size_t columns = 1;
  float wide = 0;
};
PotCells pot_cells(float width) {
  PotCells cells;
  cells.columns = static_cast<std::size_t>(std::max(1.0F, (width + gap) / 232.0F));
  cells.wide = (width - gap * static_cast<float>(cells.columns - 1)) / static_cast<float>(cells.columns);
  return cells;
}
constexpr float pot_high = 112;

float pots_height(float width, std::size_t pots) {
  const PotCells cells = pot_cells(width);
  const std::size_t lines = (pots + cells.columns - 1) / cells.columns;
  return 40 + (pots == 0 ? 40.0F : static_cast<float>(lines) * (pot_high + gap));
}

std::optional<Wish> draw_pots_of(ScreenView& view, Rect area, const BatchState& batch,
                                 const std::vector<const PotView*>& pots, Rect sight) {
  const ClonesWords& w = clones_words();
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  std::optional<Wish> wish;
  const Holds holds = holds_of(view.rows, batch);
  std::string said;
  if (batch.pieces_waiting > 0) said = say(w.waits, pieces_word(batch.method, batch.pieces_waiting));
  if (const std::int64_t bulbs = total(batch.bulbs_waiting); bulbs > 0)
    said = say(w.waits, counted(bulbs, w.bulb, w.bulbs));
  if (said.empty() && !pots.empty()) {
    const std::string in =
        holds.bulbs > 0 ? counted(holds.bulbs, w.bulb, w.bulbs) : pieces_word(batch.method, holds.pieces);
    said = say(w.pots_and, counted(static_cast<std::int64_t>(pots.size()), w.pot, w.pots_many), in);
  }
  Rect head = area.take_top(40);
  head.h = 30;
  const float title = pen.text_in(head, Type::heading_24, t.ink, w.pots);
  pen.text_in({head.x + title + 16, head.y, head.w - title - 16, head.h},
              pen.fitting({Type::body_16, Type::body_15}, said, head.w - title - 16), t.ink2, said, Align::right);
  if (pots.empty()) {
    pen.text_in({area.x, area.y, area.w, 28}, Type::body_16, t.ink2, w.no_pots);
    return wish;
  }
  const PotCells cells = pot_cells(area.w);
  for (std::size_t i = 0; i < pots.size(); ++i) {
    const PotView& pot = *pots[i];
    const Rect cell{area.x + static_cast<float>(i % cells.columns) * (cells.wide + gap),
                    area.y + static_cast<float>(i / cells.columns) * (pot_high + gap), cells.wide, pot_high};
    if (cell.bottom() < sight.y || cell.y > sight.bottom()) continue;
    const std::string target = "pot:" + pot.label;
    if (pen.touch.hit(target, cell)) {
      Subject about;
      about.pots = {pot.id()};
      wish = Go{Screen::pot, about};
    }
    const bool pressed = is_pressed(pen, target);
    pen.fill(cell, pressed ? t.straw : t.sheet, 8);
    pen.frame(cell, pressed ? t.on_straw : t.edge, 1.5F, 8);
    const float tag = draw_pot_tag(pen, {cell.x + 12, cell.y + 12}, 34, pot.label, cell.w - 60);
    draw_mark(pen, pot.held ? Mark::on_hold : mark_of(pot.stage),
              {std::max(cell.x + tag + 32, cell.right() - 28), cell.y + 29}, 24);
    const std::string in = pot.of_pieces() ? pieces_word(batch.method, pot.pot.pieces) : contents_words(pot.pot);
    const Type type = pen.fitting({Type::strong_16, Type::strong_15}, in, cell.w - 28);
    pen.text_in({cell.x + 14, cell.y + 52, cell.w - 28, 26}, type, pressed ? t.on_straw : t.ink, in);
    const std::string place = place_of(pot.batch, pot.pot);
    const std::size_t comma = place.find(", ");
    // The house is left out where there is no room for it.
    const bool whole = pen.width(Type::body_15, place) <= cell.w - 28 || comma == std::string::npos;
    pen.text_in({cell.x + 14, cell.y + 78, cell.w - 28, 24}, Type::body_15, pressed ? t.on_straw : t.ink2,
                whole ? place : place.substr(comma + 2));
  }
  return wish;
}

std::optional<Wish> draw_batch_acts(ScreenView& view, Rect area, const BatchState& batch) {
  const ClonesWords& w = clones_words();
  Pen& pen = view.pen;
  std::optional<Wish> wish;
  Subject about;
  about.batch = batch.id;
  about.clone = batch.clone;
  about.genus = batch.genus;
  const float half = std::min(360.0F, (area.w - gap) / 2);
  const bool narrow = area.w < 420;
  const Rect cut = narrow ? area.take_top(64, gap) : area.take_left(half, gap);
  const Rect work = narrow ? area.take_top(56) : area.take_left(half);
  if (draw_act(pen, cut, {"batch:cut", w.cut_batch, ActStyle::main, Icon::cutting, !batch.held}))
    wish = Go{Screen::cut, about};
  if (draw_act(pen, work, {"batch:work", w.work_batch, ActStyle::link, Icon::pots, true}))
    wish = Go{Screen::care, about};
  return wish;
}

std::optional<Wish> draw_batch_page(ScreenView& view, const BatchState& batch) {
  const ClonesWords& w = clones_words();
  Pen& pen = view.pen;
  Layout& l = view.layout;
  std::optional<Wish> wish;
  const auto take = [&](const std::optional<Wish>& asked) {
    if (asked) wish = asked;
  };
  const std::vector<const PotView*> pots = view.rows.filled_of(batch.id);
  Rect area{l.content.x, l.content.y, l.content.w, l.page.bottom() - l.content.y};
  const std::string_view note = batch.held ? w.not_cut : std::string_view();
  if (l.landscape()) {
    const Layout::Columns columns = l.columns(area, 0.58F);
    Rect reading = columns.reading;
    Rect acting = columns.acting;
    acting.take_bottom(24);
    const float pots_high = pots_height(reading.w, pots.size()) + 20;
    const float top = pen.begin_scroll("batch", reading, pots_high);
    take(draw_pots_of(view, {reading.x, top, reading.w, pots_high}, batch, pots, reading));
    pen.end_scroll("batch");
    float high = 0;
    take(draw_facts(view, {acting.x, 0, acting.w, 0}, batch, &high));
    const float acts = acting.w < 420 ? 64 + gap + 56 : 64.0F;
    const float said = note.empty() ? 0.0F : pen.paragraph_height(acting.w, Type::body_16, note, 4) + 12;
    const Rect facts = acting.take_top(std::min(high, acting.h - acts - said - 16), 16);
    const float from = pen.begin_scroll("batch:facts", facts, high);
    take(draw_facts(view, {facts.x, from, facts.w, high}, batch, nullptr));
    pen.end_scroll("batch:facts");
    if (!note.empty()) pen.paragraph(acting.take_top(said), Type::body_16, pen.theme.ink2, note, 4);
    take(draw_batch_acts(view, acting.take_top(acts), batch));
    return wish;
  }
  Rect below = area.take_bottom(l.phone() ? 12.0F : 16.0F);
  const Rect acts = area.take_bottom(area.w < 420 ? 64 + gap + 56 : 64.0F, 12);
  take(draw_batch_acts(view, acts, batch));
  below = area;
  float facts = 0;
  take(draw_facts(view, {area.x, 0, area.w, 0}, batch, &facts));
  const float said = note.empty() ? 0.0F : pen.paragraph_height(area.w, Type::body_16, note, 4) + 12;
  const float pots_high = pots_height(area.w, pots.size());
  const float top = pen.begin_scroll("batch", below, facts + 16 + said + pots_high + 16);
  take(draw_facts(view, {area.x, top, area.w, facts}, batch, nullptr));
  if (!note.empty()) pen.paragraph({area.x, top + facts + 12, area.w, said}, Type::body_16, pen.theme.ink2, note, 4);
  take(draw_pots_of(view, {area.x, top + facts + 16 + said, area.w, pots_high}, batch, pots, below));
  pen.end_scroll("batch");
  return wish;
}

std::optional<Wish> draw_gone(ScreenView& view, std::string_view sentence, std::optional<Wish> wish) {
  Layout& l = view.layout;
  const Rect panel = l.content.take_top(l.phone() ? 360.0F : 220.0F);
  view.pen.fill(panel, view.pen.theme.sheet, 8);
  if (draw_empty(view.pen, panel.inset(24), sentence, "other", clones_words().title)) wish = Go{Screen::clones, {}};
  return wish;
}

}  // namespace

std::optional<Wish> draw_clone_screen(ScreenView& view) {
  const ClonesWords& w = clones_words();
  ClonesDraft& draft = view.ui.clones;
  Subject& about = view.ui.about;
  const CloneBalance* clone = find_clone(view);
  const BatchState* batch = about.batch ? view.rows.batch(*about.batch) : nullptr;
  if (batch != nullptr && !batch->begun) batch = nullptr;
  // A name that was being typed for another clone is not this one's.
  if (draft.renaming && (draft.descent.clone != about.clone || draft.descent.genus != about.genus))
    draft.renaming = false;
  if (clone != nullptr) refresh_descent(view);

  Top top;
  top.title = clone_words(about.clone);
  top.clone_name = true;
  top.writes = draft.renaming;
  if (about.batch) {
    top.second = batch != nullptr
                     ? say(w.batch_second, batch_words(*batch), day_near(local_day(batch->begun_on), view.today))
                     : std::string();
  } else if (draft.renaming) {
    top.second = say(w.rename_title, clone_words(about.clone));
  } else if (clone != nullptr) {
    top.second = say(w.descent_second, clone->genus, counted(clone->bulbs.there, w.bulb, w.bulbs),
                     counted(clone->batches, w.batch, w.batches));
  }
  std::optional<Wish> wish = draw_top(view, top);
  if (wish && std::holds_alternative<GoBack>(*wish)) {
    if (draft.renaming) {
      draft.renaming = false;
      return std::nullopt;
    }
    if (about.batch && draft.from_tree) {
      about.batch.reset();
      draft.from_tree.reset();
      return std::nullopt;
    }
    draft.from_tree.reset();
    return wish;
  }
  if (about.batch && batch == nullptr) return draw_gone(view, w.batch_gone, wish);
  if (clone == nullptr) return draw_gone(view, w.gone, wish);
  std::optional<Wish> asked = draft.renaming     ? draw_renaming(view)
                              : batch != nullptr ? draw_batch_page(view, *batch)
                                                 : draw_descent_page(view, *clone);
  return asked ? asked : wish;
}

}  // namespace motherbulb
