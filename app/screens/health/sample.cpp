// How many to test, and how long a bulb warms up in hot water: a few keys, and the answer large.

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>

#include "app/screens/health/parts.hpp"
#include "app/widgets/label_keys.hpp"
#include "app/widgets/labels.hpp"
#include "app/words.hpp"
#include "app/words/health.hpp"
#include "core/health/hot_water.hpp"

namespace motherbulb::health {
namespace {

constexpr std::int64_t greatest_lot = 100'000'000;

// 0.05 as "5", 0.995 as "99.5".
std::string in_percent(double share) {
  const auto tenths = static_cast<std::int64_t>(std::lround(share * 1000));
  std::string text = grouped(tenths / 10);
  if (tenths % 10 != 0) text += "." + std::to_string(tenths % 10);
  return text;
}
std::string percent_words(double share) {
  return say(health_words().percent, in_percent(share));
}

// As the confidence that was reached is told: never more than it is.
std::string reached_in_percent(double reached) {
  return in_percent(std::floor(reached * 1000 + 1e-6) / 1000);
}

void refresh_bulbs(ScreenView& view) {
  HealthDraft& draft = view.ui.health;
  if (draft.bulbs_at == view.rows.revision()) return;
  draft.bulbs_at = view.rows.revision();
  draft.bulbs = 0;
  for (const StockRow& row : view.rows.stock().rows) draft.bulbs += row.bulbs;
}

std::int64_t lot_of(const HealthDraft& draft) {
  return draft.lot > 0 ? draft.lot : draft.bulbs;
}

struct Field {
  std::string name;
  std::string_view title;
  struct Key {
    std::string name, words;
    bool chosen = false;
    std::function<void()> choose;
  };
  std::vector<Key> keys;
};

std::vector<Field> fields_of(HealthDraft& draft) {
  const HealthWords& w = health_words();
  std::vector<Field> fields;
  const auto typed = [&](Field& field, bool chosen, const std::string& shown) {
    const std::string pad = field.name;
    field.keys.push_back({field.name + ":other", chosen ? shown : std::string(w.sample_other), chosen, [&draft, pad] {
                            draft.pad = pad;
                            draft.typed.clear();
                          }});
  };
  {
    Field lot{"lot", w.sample_lot, {}};
    if (draft.bulbs > 0)
      lot.keys.push_back(
          {"lot:here", say(w.sample_there, grouped(draft.bulbs)), draft.lot == 0, [&draft] { draft.lot = 0; }});
    typed(lot, draft.lot > 0, grouped(draft.lot));
    fields.push_back(std::move(lot));
  }
  const auto shares = [&](std::string name, std::string_view title, double& value,
                          std::initializer_list<double> offered) {
    Field field{std::move(name), title, {}};
    bool known = false;
    for (const double one : offered) {
      known = known || value == one;
      field.keys.push_back(
          {field.name + ":" + in_percent(one), percent_words(one), value == one, [&value, one] { value = one; }});
    }
    typed(field, !known, percent_words(value));
    fields.push_back(std::move(field));
  };
  shares("share", w.sample_share, draft.share, {0.01, 0.02, 0.05, 0.1});
  shares("sure", w.sample_confidence, draft.confidence, {0.9, 0.95, 0.99});
  shares("test", w.sample_sensitivity, draft.sensitivity, {1.0, 0.95, 0.9, 0.8});
  Field pool{"pool", w.sample_pool, {}};
  bool known = false;
  for (const std::int64_t one : {1, 2, 5, 10}) {
    known = known || draft.pool == one;
    pool.keys.push_back({"pool:" + std::to_string(one),
                         one == 1 ? std::string(w.sample_single) : say(w.sample_pools, one), draft.pool == one,
                         [&draft, one] { draft.pool = one; }});
  }
  typed(pool, !known, say(w.sample_pools, grouped(draft.pool)));
  fields.push_back(std::move(pool));
  return fields;
}

struct FieldPlace {
  std::vector<std::size_t> rows;  // keys in each
  float height = 0;
};
FieldPlace place_of(Pen& pen, float width, const Field& field) {
  FieldPlace place;
  float x = 0;
  place.rows.push_back(0);
  for (const Field::Key& key : field.keys) {
    const float wide = std::max(64.0F, pen.width(Type::strong_16, key.words) + 28);
    if (x > 0 && x + wide > width) {
      place.rows.push_back(0);
      x = 0;
    }
    ++place.rows.back();
    x += wide + gap;
  }
  place.height = 28 + static_cast<float>(place.rows.size()) * (56 + gap) + 6;
  return place;
}

Block field_block(Pen& pen, float width, const Field& field) {
  const FieldPlace place = place_of(pen, width, field);
  return {place.height, [&pen, field, place](Rect area) {
            pen.text_in(area.take_top(24, 4), Type::strong_16, pen.theme.ink2, field.title);
            std::size_t at = 0;
            for (const std::size_t count : place.rows) {
              Rect row = area.take_top(56, gap);
              for (std::size_t i = 0; i < count; ++i, ++at) {
                const Field::Key& key = field.keys[at];
                const float wide = std::max(64.0F, pen.width(Type::strong_16, key.words) + 28);
                if (draw_filter(pen, row.take_left(wide, gap), key.name, key.words, key.chosen)) key.choose();
              }
            }
          }};
}

SampleWish wish_of(const HealthDraft& draft, std::int64_t pool) {
  SampleWish wish;
  wish.lot = lot_of(draft);
  wish.share = draft.share;
  wish.confidence = draft.confidence;
  wish.sensitivity = draft.sensitivity;
  wish.pool = pool;
  return wish;
}

void refresh_sample(HealthDraft& draft) {
  auto& answer = draft.answer;
  const SampleWish alone = wish_of(draft, 1);
  if (answer.made && answer.lot == alone.lot && answer.share == alone.share && answer.confidence == alone.confidence &&
      answer.sensitivity == alone.sensitivity && answer.pool == draft.pool)
    return;
  answer = {};
  answer.made = true;
  answer.lot = alone.lot;
  answer.share = alone.share;
  answer.confidence = alone.confidence;
  answer.sensitivity = alone.sensitivity;
  answer.pool = draft.pool;
  if (alone.lot == 0) return;
  const auto single = sample_size(alone);
  if (!single) {
    answer.refused = sentence_of(single.error());
    return;
  }
  answer.single = *single;
  if (draft.pool == 1) return;
  const auto pooled = sample_size(wish_of(draft, draft.pool));
  if (!pooled) {
    answer.refused = sentence_of(pooled.error());
    return;
  }
  answer.pooled = *pooled;
}

// What is read large, what stands below it, and what it means.
void answer_blocks(ScreenView& view, std::vector<Block>& blocks, float width) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const HealthWords& w = health_words();
  HealthDraft& draft = view.ui.health;
  refresh_sample(draft);
  const auto& answer = draft.answer;
  const auto large = [&](std::string text, Color color) {
    const Type type = pen.fitting({Type::numeral_56, Type::numeral_40, Type::heading_28}, text, width);
    blocks.push_back({type_dp(type) + 16, [&pen, type, color, text](Rect at) {
                        pen.text_in({at.x, at.y, at.w, at.h - 8}, type, color, text);
                      }});
  };
  const auto line = [&](const std::string& text, Type type = Type::body_18, float below = 10) {
    blocks.push_back(paragraph_block(pen, width, type, type == Type::body_18 ? t.ink : t.ink2, text, below));
  };
  if (answer.lot == 0) return line(std::string(w.sample_no_lot));
  if (!answer.refused.empty()) {
    blocks.push_back(paragraph_block(pen, width, Type::heading_24, t.copper, std::string(w.sample_refused), 6));
    return line(answer.refused);
  }
  const Sample& single = *answer.single;
  if (!single.tests && (!answer.pooled || !answer.pooled->tests)) {
    blocks.push_back(paragraph_block(pen, width, Type::heading_28, t.copper, std::string(w.sample_not_enough), 8));
    const double reached = std::max(single.reached, answer.pooled ? answer.pooled->reached : 0.0);
    return line(say(w.sample_not_enough_line, grouped(answer.lot), reached_in_percent(reached)));
  }
  const auto pools = [&](const Sample& sample) {
    return say(single.tests ? w.sample_pools_take : w.sample_pools_alone, counted(*sample.tests, w.pool, w.pools),
               grouped(answer.pool), counted(sample.bulbs, w.bulb, w.bulbs));
  };
  if (single.tests) large(counted(*single.tests, w.bulb, w.bulbs), t.tunic);
  if (answer.pooled && answer.pooled->tests) {
    const std::string text = pools(*answer.pooled);
    blocks.push_back(paragraph_block(pen, width, Type::heading_28, t.ink, text, 12));
  }
  line(say(w.sample_means, percent_words(draft.share), grouped(answer.lot), in_percent(draft.confidence)));
  line(std::string(w.sample_clean), Type::body_16, 6);
  line(std::string(w.sample_draw), Type::body_16, 6);
}

// --- the pad

std::string_view pad_title(const std::string& pad) {
  const HealthWords& w = health_words();
  if (pad == "lot") return w.pad_lot;
  if (pad == "share") return w.pad_share;
  if (pad == "sure") return w.pad_confidence;
  if (pad == "test") return w.pad_sensitivity;
  return w.pad_pool;
}

bool of_percent(const std::string& pad) {
  return pad == "share" || pad == "sure" || pad == "test";
}

// The typed number into its field; false where it is none, or beyond what the field takes.
bool take_typed(HealthDraft& draft, bool only_try) {
  if (draft.typed.empty() || draft.typed == ".") return false;
  if (of_percent(draft.pad)) {
    // At most one decimal: no float is parsed.
    const std::size_t point = draft.typed.find('.');
    const std::int64_t whole = std::atoll(draft.typed.substr(0, point).c_str());
    const std::int64_t tenth =
        point == std::string::npos || point + 1 >= draft.typed.size() ? 0 : draft.typed[point + 1] - '0';
    const std::int64_t tenths = whole * 10 + tenth;
    const std::int64_t most = draft.pad == "sure" ? 999 : 1000;
    if (tenths < 1 || tenths > most) return false;
    if (only_try) return true;
    const double share = static_cast<double>(tenths) / 1000;
    (draft.pad == "share" ? draft.share : draft.pad == "sure" ? draft.confidence : draft.sensitivity) = share;
    return true;
  }
  const std::int64_t number = std::atoll(draft.typed.c_str());
  if (number < 1 || number > greatest_lot) return false;
  if (only_try) return true;
  (draft.pad == "lot" ? draft.lot : draft.pool) = number;
  return true;
}

void draw_pad(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const HealthWords& w = health_words();
  HealthDraft& draft = view.ui.health;
  area.h = std::min(area.h, 520.0F);
  pen.fill(area, t.sheet, 8);
  Rect inside = area.inset(16, 14);
  const std::string_view title = pad_title(draft.pad);
  pen.text_in(inside.take_top(32, 8),
              pen.fitting({Type::heading_24, Type::heading_20, Type::heading_18}, title, inside.w), t.ink, title);
  const Rect field = inside.take_top(60, 10);
  pen.fill(field, t.well, 6);
  const std::string shown = of_percent(draft.pad) ? say(w.percent, draft.typed) : draft.typed;
  pen.text_in(field.inset(16, 0), Type::numeral_40, t.ink, draft.typed.empty() ? std::string() : shown);
  Rect acts = inside.take_bottom(60, 10);
  const Rect drop = acts.take_left(acts.w * 0.4F, gap);
  const KeysAnswer answer = draw_keys(
      pen, inside, {of_percent(draft.pad) ? "123456789.0" : "1234567890", 3, {}, false, true, !draft.typed.empty()});
  const char typed_key = pen.touch.take_any_character();
  const char typed = answer.typed != 0 ? answer.typed : typed_key;
  const std::size_t point = draft.typed.find('.');
  if (typed >= '0' && typed <= '9' && draft.typed.size() < 9 &&
      (point == std::string::npos || draft.typed.size() - point < 2))
    draft.typed += typed;
  if (typed == '.' && of_percent(draft.pad) && point == std::string::npos && !draft.typed.empty()) draft.typed += '.';
  if ((answer.undo || pen.touch.take_key(Key::backspace)) && !draft.typed.empty()) draft.typed.pop_back();
  const bool can = take_typed(draft, true);
  const bool enter = pen.touch.take_key(Key::enter);
  if ((draw_act(pen, acts, {"pad:done", w.pad_done, ActStyle::main, Icon::tick, can}) || enter) && can) {
    take_typed(draft, false);
    draft.pad.clear();
  } else if (draw_act(pen, drop, {"pad:cancel", words().cancel, ActStyle::square, {}, true})) {
    draft.pad.clear();
  }
}

Block on_sheet(Pen& pen, float edge, std::vector<Block> blocks) {
  float height = 2 * 16;
  for (const Block& block : blocks) height += block.height;
  return {height + 14, [&pen, edge, height, inner = std::move(blocks)](Rect area) {
            pen.fill({area.x, area.y, area.w, height}, pen.theme.sheet, 8);
            float y = area.y + 16;
            for (const Block& block : inner) {
              if (block.draw) block.draw({area.x + edge, y, area.w - 2 * edge, block.height});
              y += block.height;
            }
          }};
}

}  // namespace

void draw_sample(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  HealthDraft& draft = view.ui.health;
  const Layout& l = view.layout;
  refresh_bulbs(view);
  const float edge = l.phone() ? 12 : 24;
  if (!l.landscape()) {
    if (!draft.pad.empty()) return draw_pad(view, area);
    std::vector<Block> blocks;
    std::vector<Block> answer;
    answer_blocks(view, answer, area.w - 2 * edge);
    blocks.push_back(on_sheet(pen, edge, std::move(answer)));
    for (const Field& field : fields_of(draft)) blocks.push_back(field_block(pen, area.w, field));
    return draw_blocks(pen, "sample", area, blocks);
  }
  const auto [left, right] = l.columns(area, 0.54F);
  std::vector<Block> fields;
  for (const Field& field : fields_of(draft)) fields.push_back(field_block(pen, left.w, field));
  draw_blocks(pen, "sample", left, fields);
  if (!draft.pad.empty()) return draw_pad(view, right);
  std::vector<Block> answer;
  answer_blocks(view, answer, right.w - 2 * edge);
  draw_blocks(pen, "sample:answer", right, {on_sheet(pen, edge, std::move(answer))});
}

// ------------------------------------------------------------------------------------------------ hot water

namespace {

constexpr std::int32_t least_girth = 5, greatest_girth = 30;
constexpr std::int64_t treatment_minutes = 180;  // 3 h at 44.4 °C in narcissus (S44, S17)

std::string minutes_words(std::int64_t minutes) {
  const HealthWords& w = health_words();
  return minutes < 60 ? say(w.water_minutes, minutes) : say(w.water_hours, minutes / 60, minutes % 60);
}

void girth_keys(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  HealthDraft& draft = view.ui.health;
  pen.text_in(area.take_top(24, 6), Type::strong_16, t.ink2, health_words().water_girth);
  Rect row = area.take_top(64);
  row.w = std::min(row.w, 380.0F);
  if (draw_act(pen, row.take_left(72, gap),
               {"girth:less", "", ActStyle::square, Icon::minus, draft.girth_cm > least_girth}))
    --draft.girth_cm;
  if (draw_act(pen, row.take_right(72, gap),
               {"girth:more", "", ActStyle::square, Icon::plus, draft.girth_cm < greatest_girth}))
    ++draft.girth_cm;
  pen.text_in(row, Type::numeral_40, t.ink, say(health_words().water_cm, draft.girth_cm), Align::middle);
}

}  // namespace

void draw_hot_water(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const HealthWords& w = health_words();
  HealthDraft& draft = view.ui.health;
  const Layout& l = view.layout;
  const float edge = l.phone() ? 12 : 24;
  const auto answer_of = [&](float width) {
    std::vector<Block> blocks;
    blocks.push_back({106, [&view](Rect at) { girth_keys(view, at); }});
    const std::optional<double> warm = core_warm_up_minutes(draft.girth_cm);
    if (!warm) {
      blocks.push_back(paragraph_block(pen, width, Type::body_18, t.ink, std::string(w.water_none)));
    } else {
      // A minute begun is a minute more: too short does not kill.
      const auto minutes = static_cast<std::int64_t>(std::ceil(*warm - 1e-9));
      blocks.push_back(
          {72, [&pen, minutes](Rect at) {
             pen.text_in({at.x, at.y, at.w, 64}, Type::numeral_56, pen.theme.tunic, minutes_words(minutes));
           }});
      blocks.push_back(paragraph_block(pen, width, Type::strong_18, t.ink, std::string(w.water_warm), 10));
      blocks.push_back(paragraph_block(pen, width, Type::body_18, t.ink,
                                       say(w.water_then, minutes_words(minutes + treatment_minutes)), 10));
    }
    blocks.push_back(paragraph_block(pen, width, Type::body_16, t.ink2, std::string(w.water_when), 8));
    blocks.push_back(paragraph_block(pen, width, Type::body_16, t.ink2, std::string(w.water_how), 4));
    return blocks;
  };
  const auto cautions_of = [&](float width) {
    std::vector<Block> blocks;
    for (const std::string_view one : {w.water_scald, w.water_rot, w.water_hotter, w.water_hippeastrum, w.water_rules})
      blocks.push_back(caution_block(pen, width, std::string(one)));
    return blocks;
  };
  if (!l.landscape()) {
    draw_blocks(
        pen, "water", area,
        {on_sheet(pen, edge, answer_of(area.w - 2 * edge)), on_sheet(pen, edge, cautions_of(area.w - 2 * edge))});
    return;
  }
  const auto [left, right] = l.columns(area, 0.54F);
  draw_blocks(pen, "water", left, {on_sheet(pen, edge, answer_of(left.w - 2 * edge))});
  draw_blocks(pen, "water:care", right, {on_sheet(pen, edge, cautions_of(right.w - 2 * edge))});
}

}  // namespace motherbulb::health
