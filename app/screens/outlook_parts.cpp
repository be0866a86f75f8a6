#include "app/screens/outlook_parts.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>

#include "app/widgets/chance.hpp"
#include "app/widgets/label_keys.hpp"
#include "app/widgets/labels.hpp"
#include "app/words.hpp"
#include "app/words/outlook.hpp"

namespace motherbulb::ahead {
namespace {

constexpr float key = 56;
constexpr float dots = 112;
constexpr float title_high = 44;
constexpr std::size_t least_drawn = 5;  // seasons of the fan
constexpr std::size_t most_rungs = 8;

float across(const ScreenView& view) {
  return view.layout.phone() ? 16.0F : 26.0F;
}

double count_of(const std::optional<std::int64_t>& count, double otherwise) {
  return count ? static_cast<double>(*count) : otherwise;
}

// ------------------------------------------------------------------------------------------------ what is shown

FanView fan_of(const ScreenView& view, const OutlookPicture& picture, const OutlookDraft::Wanted& wanted) {
  const OutlookWords& w = outlook_words();
  FanView fan;
  double now = 0;
  const auto& classes = picture.known.growth.classes;
  for (const ClassGrowth& one : classes) now += one.saleable ? static_cast<double>(one.bulbs) : 0.0;
  fan.points.push_back({year_after(view, 0), {now, now, now, now, now}});
  const std::size_t last = std::min(picture.seasons, std::max(least_drawn, wanted.season + 1));
  for (std::size_t t = 1; t <= last; ++t) {
    const Spread& s = picture.outlook.seasons[t - 1].saleable;
    if (!s.p50) break;  // from here on there are too many to count
    fan.points.push_back({year_after(view, t),
                          {count_of(s.p5, s.mean), count_of(s.p25, s.mean), count_of(s.p50, s.mean),
                           count_of(s.p75, s.mean), count_of(s.p95, s.mean)}});
  }
  fan.target = static_cast<double>(wanted.target);
  fan.target_words = say(w.fan_wanted, grouped(wanted.target));
  fan.target_short = grouped(wanted.target);
  fan.ends = w.fan_ends;
  if (wanted.season < fan.points.size()) {
    fan.chosen = wanted.season;
    fan.chosen_words = rounded_words(fan.points[wanted.season].counts[2]);
  }
  return fan;
}

// Where a genus has more classes than can be read beside each other, the smallest ones go together.
LadderView ladder_of(const ScreenView& view, const OutlookPicture& picture, const OutlookDraft::Wanted& wanted) {
  LadderView ladder;
  const auto& classes = picture.known.growth.classes;
  const std::size_t together = classes.size() > most_rungs ? classes.size() - most_rungs + 1 : 1;
  for (std::size_t i = together - 1; i < classes.size(); ++i) {
    Grade grade = classes[i].grade;
    if (i + 1 == together) grade.low_mm = classes.front().grade.low_mm;
    ladder.rungs.push_back({grade_words(grade), classes[i].saleable});
  }
  const std::size_t last = std::min(picture.seasons, std::max(least_drawn, wanted.season + 1));
  for (std::size_t t = 0; t <= last; ++t) {
    const std::vector<double> bulbs = bulbs_by_class(picture, t);
    LadderSeason season{year_after(view, t), {}};
    double first = 0;
    for (std::size_t i = 0; i < bulbs.size(); ++i) {
      first += bulbs[i];
      if (i + 1 < together) continue;
      season.bulbs.push_back(i + 1 == together ? first : bulbs[i]);
    }
    ladder.seasons.push_back(std::move(season));
  }
  return ladder;
}

std::size_t places_now(const OutlookPicture& picture) {
  return picture.known.growth.model.places.size();
}

std::string places_said(const ScreenView& view, const OutlookPicture& picture) {
  const OutlookWords& w = outlook_words();
  const std::size_t now = places_now(picture);
  if (now == 0) return std::string(w.places_unknown);
  const auto counted_places = [&](std::size_t count) {
    return counted(static_cast<std::int64_t>(count), w.place, w.places);
  };
  const auto& fewest = picture.outlook.fewest_places;
  const std::string then = month_after(view, picture.seasons);
  if (!fewest) return std::string(w.places_never);
  if (now >= *fewest && picture.outlook.seasons.back().lost)
    return say(w.places_enough, counted_places(now), then, chance_words(picture.outlook.seasons.back().lost->chance));
  return say(w.places_few, counted_places(*fewest), now, then);
}

void fill_levers_and_places(const ScreenView& view, const OutlookPicture& picture, Shown& shown) {
  const OutlookWords& w = outlook_words();
  for (const Lever& lever : levers_by(picture, shown.wanted.season))
    shown.levers.emplace_back(w.levers[static_cast<std::size_t>(lever.kind)], lever.change);
  if (picture.outlook.places.empty()) return;
  const std::size_t now = places_now(picture);
  for (const PlacesChance& one : picture.outlook.places) {
    const bool told = one.places <= 4 || one.places == 6 || one.places == now;
    if (!told) continue;
    std::string name = counted(static_cast<std::int64_t>(one.places), w.place, w.places);
    if (one.places == now) name += ", " + std::string(w.places_now);
    shown.places.emplace_back(std::move(name), chance_words(one.lost.chance));
  }
  shown.places_said = places_said(view, picture);
}

// ------------------------------------------------------------------------------------------------ the chance

void draw_setters(ScreenView& view, Rect area) {
  const OutlookWords& w = outlook_words();
  OutlookDraft::Wanted& wanted = wanted_of(view);
  const std::size_t last = std::min(view.ui.outlook.ahead.picture->seasons, most_seasons_asked);
  const bool stacked = area.h > key + gap;
  const Rect first = stacked ? area.take_top(key, gap) : area.take_left((area.w - 16) / 2, 16);
  const Rect second = stacked ? area.take_top(key) : area;
  const std::string target = grouped(wanted.target) + " " + std::string(w.saleable);
  const Stepped by =
      draw_stepper(view.pen, first, {"target", target, wanted.target > 1, wanted.target < most_target, true});
  if (by.by != 0) wanted.target = next_target(wanted.target, by.by > 0);
  if (by.middle) {
    view.ui.outlook.typing = true;
    view.ui.outlook.typed.clear();
  }
  const Stepped season = draw_stepper(
      view.pen, second, {"season", month_after(view, wanted.season), wanted.season > 1, wanted.season < last, false});
  if (season.by > 0) ++wanted.season;
  if (season.by < 0) --wanted.season;
}

void draw_chance_words(ScreenView& view, Rect area, const Shown& shown) {
  const OutlookWords& w = outlook_words();
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const OutlookDraft::Wanted& wanted = shown.wanted;
  const std::string then = month_after(view, wanted.season);
  if (!shown.chance) {
    pen.paragraph(area, Type::body_16, t.ink2, say(w.chance_unknown, then), 5);
    return;
  }
  const bool phone = view.layout.phone();
  const Type number = phone ? Type::numeral_56 : Type::numeral_88;
  const std::string count = std::to_string(in_a_hundred(*shown.chance));
  const float line = area.y + (phone ? 4.0F : 2.0F) + pen.cap(number);
  const float wide = pen.text(number, {area.x, line}, t.leaf, count);
  pen.text(phone ? Type::heading_20 : Type::heading_28, {area.x + wide + 12, line}, t.ink, w.in_100);
  pen.paragraph({area.x, line + 10, area.w, 70}, Type::body_16, t.ink2, say(w.to_have, grouped(wanted.target), then),
                3);
}

void draw_lost(ScreenView& view, Rect area, std::size_t season, bool beside) {
  const OutlookWords& w = outlook_words();
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const auto& lost = view.ui.outlook.ahead.picture->outlook.seasons[season - 1].lost;
  if (!lost) return;
  const std::string said = lost->chance > 0 ? chance_words(lost->chance) : std::string(w.none_lost);
  draw_mark(pen, Mark::lost, {area.x + 14, area.y + 18}, 26);
  const Type type =
      pen.fitting({Type::heading_28, Type::heading_24, Type::heading_20, Type::heading_18}, said, area.w - 38);
  pen.text_in({area.x + 38, area.y, area.w - 38, 36}, type, t.ink, said);
  const float from = beside ? 38.0F : 0.0F;
  pen.paragraph({area.x + from, area.y + (beside ? 34.0F : 44.0F), area.w - from, 60}, Type::body_16, t.ink2,
                w.lost_by_then, 3);
}

std::optional<Wish> draw_chance_panel(ScreenView& view, Rect area, bool wide) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const Shown& shown = *view.ui.outlook.shown;
  pen.fill(area, t.sheet, 8);
  Rect inside = area.inset(across(view), 18);
  Rect top = inside.take_top(wide ? 120.0F : 116.0F, 12);
  const int filled = shown.chance ? in_a_hundred(*shown.chance) : 0;
  draw_chance(pen, top.take_left(dots, wide ? 30.0F : 16.0F), filled);
  if (wide) {
    const Rect lost = top.take_right(std::min(200.0F, top.w * 0.42F), 24);
    pen.fill({lost.x - 22, lost.y + 4, 1.5F, lost.h - 12}, t.night ? t.edge : t.well);
    draw_lost(view, {lost.x, lost.y + 18, lost.w, lost.h - 18}, shown.wanted.season, false);
  }
  draw_chance_words(view, top, shown);
  if (!wide) draw_lost(view, inside.take_top(62, 10), shown.wanted.season, true);
  draw_setters(view, inside);
  return std::nullopt;
}

std::optional<Wish> draw_typing(ScreenView& view, Rect area) {
  const OutlookWords& w = outlook_words();
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  OutlookDraft& draft = view.ui.outlook;
  pen.fill(area, t.sheet, 8);
  Rect inside = area.inset(across(view), 14);
  pen.text_in(inside.take_top(30, 4), Type::heading_20, t.ink, w.target_hint);
  const Rect keep = inside.take_bottom(64, gap);
  const std::int64_t typed = draft.typed.empty() ? 0 : std::stoll(draft.typed);
  pen.text_in(inside.take_top(52, 6), Type::numeral_40, t.tunic, typed > 0 ? grouped(typed) : "–");
  const KeysAnswer answer =
      draw_keys(pen, inside, {"1234567890", view.layout.phone() ? 3UL : 6UL, "", false, true, !draft.typed.empty()});
  if (answer.undo && !draft.typed.empty()) draft.typed.pop_back();
  if (answer.typed != 0 && !(draft.typed.empty() && answer.typed == '0')) {
    draft.typed.push_back(answer.typed);
    if (std::stoll(draft.typed) > most_target) draft.typed = std::to_string(most_target);
  }
  const std::string act = typed > 0 ? say(w.target_keep, grouped(typed)) : std::string(w.target_empty);
  if (draw_act(pen, keep, {"target:keep", act, ActStyle::main, Icon::tick, typed > 0})) {
    wanted_of(view).target = typed;
    draft.typing = false;
  }
  return std::nullopt;
}

}  // namespace

Stepped draw_stepper(Pen& pen, Rect row, const Stepper& stepper) {
  Stepped stepped;
  const std::string& said = stepper.said;
  if (draw_act(pen, row.take_left(key, gap), {stepper.name + ":less", "", ActStyle::plain, Icon::minus, stepper.less}))
    stepped.by = -1;
  if (draw_act(pen, row.take_right(key, gap), {stepper.name + ":more", "", ActStyle::plain, Icon::plus, stepper.more}))
    stepped.by = 1;
  if (stepper.opens) {
    stepped.middle = draw_act(pen, row, {stepper.name + ":type", said, ActStyle::plain, {}, true});
  } else {
    pen.text_in(row, pen.fitting({Type::strong_18, Type::strong_16, Type::strong_15}, said, row.w), pen.theme.ink, said,
                Align::middle);
  }
  return stepped;
}

OutlookDraft::Wanted& wanted_of(ScreenView& view) {
  return view.ui.outlook.wanted[{view.ui.about.clone, view.ui.about.genus}];
}

std::string year_after(const ScreenView& view, std::size_t seasons) {
  return std::to_string(civil(view.today).year + static_cast<std::int32_t>(seasons));
}

std::string month_after(const ScreenView& view, std::size_t seasons) {
  return say(outlook_words().by, month_name(civil(view.today).month), year_after(view, seasons));
}

std::string chance_words(double chance) {
  const OutlookWords& w = outlook_words();
  if (chance >= 0.095) return say(w.of_100, in_a_hundred(chance));
  if (chance <= 0) return std::string(w.none_lost);
  if (chance < 1e-6) return std::string(w.under_million);
  // Two figures: more are not known.
  const double ones = 1 / chance;
  const double power = std::pow(10.0, std::floor(std::log10(ones)) - 1);
  return say(w.one_in, grouped(static_cast<std::int64_t>(std::llround(std::round(ones / power) * power))));
}

std::string rounded_words(double count) {
  return grouped(static_cast<std::int64_t>(std::llround(std::clamp(count, -1e15, 1e15))));
}

std::string few_words(double count) {
  const double tenths = std::round(count * 10) / 10;
  if (tenths >= 10 || tenths == std::round(tenths)) return rounded_words(count);
  return fmt::format("{:.1f}", tenths);
}

std::string without_numbers_of_sources(const std::string& sentence) {
  const OutlookWords& w = outlook_words();
  const auto is_digit = [&](std::size_t at) {
    return at < sentence.size() && sentence[at] >= '0' && sentence[at] <= '9';
  };
  const auto is_letter = [&](std::size_t at) {
    return at < sentence.size() && std::isalpha(static_cast<unsigned char>(sentence[at])) != 0;
  };
  // The end of a number that begins there; the beginning itself where none does.
  const auto end_of = [&](std::size_t from) {
    if (from >= sentence.size() || sentence[from] != 'S' || !is_digit(from + 1) || (from > 0 && is_letter(from - 1)))
      return from;
    std::size_t at = from + 1;
    while (is_digit(at)) ++at;
    return is_letter(at) && !is_letter(at + 1) ? at + 1 : at;
  };
  std::string told;
  for (std::size_t i = 0; i < sentence.size();) {
    std::size_t end = end_of(i);
    if (end == i) {
      told += sentence[i++];
      continue;
    }
    bool several = false;
    while (sentence.compare(end, 2, ", ") == 0 && end_of(end + 2) > end + 2) {
      end = end_of(end + 2);
      several = true;
    }
    told += several ? w.trials : w.one_trial;
    i = end;
  }
  return told;
}

void refresh_shown(ScreenView& view) {
  OutlookDraft& draft = view.ui.outlook;
  const OutlookPicture& picture = *draft.ahead.picture;
  OutlookDraft::Wanted& wanted = wanted_of(view);
  wanted.season = std::clamp<std::size_t>(wanted.season, 1, std::min(picture.seasons, most_seasons_asked));
  if (wanted.target == 0) wanted.target = usual_target(picture, wanted.season);
  if (draft.shown && draft.shown->of == draft.ahead.picture && draft.shown->wanted == wanted) return;
  const auto shown = std::make_shared<Shown>();
  shown->of = draft.ahead.picture;
  shown->wanted = wanted;
  shown->chance = chance_of(picture, wanted.target, wanted.season);
  shown->fan = fan_of(view, picture, wanted);
  shown->ladder = ladder_of(view, picture, wanted);
  fill_levers_and_places(view, picture, *shown);
  for (const std::string& line : picture.known.growth.missing)
    shown->missing.push_back(without_numbers_of_sources(line));
  draft.shown = shown;
}

Panel chance_panel(ScreenView& view, float width) {
  const float inside = width - 2 * across(view);
  if (view.ui.outlook.typing) {
    const float rows = view.layout.phone() ? 4.0F : 2.0F;
    return {28 + 34 + 58 + rows * (60 + gap) + 64 + gap, [&view](Rect area) { return draw_typing(view, area); }};
  }
  const bool wide = inside > 480;
  const bool stacked = inside < 460;
  const float setters = stacked ? 2 * key + gap : key;
  const float height = 36 + (wide ? 132.0F : 128.0F + 72) + setters;
  return {height, [&view, wide](Rect area) { return draw_chance_panel(view, area, wide); }};
}

// ------------------------------------------------------------------------------------------------ fan and ladder

Panel fan_panel(ScreenView& view, float width, float height) {
  const OutlookWords& w = outlook_words();
  const float said = view.pen.paragraph_height(width - 2 * across(view), Type::body_15, w.fan_said, 3);
  return {height + said + 8, [&view, &w, said](Rect area) -> std::optional<Wish> {
            Pen& pen = view.pen;
            const Theme& t = pen.theme;
            pen.fill(area, t.sheet, 8);
            Rect inside = area.inset(across(view), 14);
            std::string title(w.fan_title_plain);
            for (const ClassGrowth& one : view.ui.outlook.ahead.picture->known.growth.classes) {
              if (!one.saleable) continue;
              Grade from = one.grade;
              from.high_mm = -1;
              std::string girth = grade_words(from);
              if (!girth.empty() && girth.back() == '+') girth.pop_back();
              title = say(w.fan_title, girth);
              break;
            }
            const Rect line = inside.take_top(34, 2);
            pen.text_in(line, pen.fitting({Type::heading_24, Type::heading_20, Type::heading_18}, title, line.w), t.ink,
                        title);
            pen.paragraph(inside.take_bottom(said, 6), Type::body_15, t.ink2, w.fan_said, 3);
            draw_fan(pen, inside, view.ui.outlook.shown->fan);
            return std::nullopt;
          }};
}

Panel ladder_panel(ScreenView& view, float width) {
  const OutlookWords& w = outlook_words();
  const LadderView& ladder = view.ui.outlook.shown->ladder;
  const float rung = view.layout.portrait() ? 38.0F : 34.0F;
  const bool below = width < 560;
  const float height = 28 + 36 + (below ? 26.0F : 4.0F) + ladder_height(ladder, rung);
  return {height, [&view, &w, below](Rect area) -> std::optional<Wish> {
            Pen& pen = view.pen;
            const Theme& t = pen.theme;
            pen.fill(area, t.sheet, 8);
            Rect inside = area.inset(across(view), 14);
            const Rect line = inside.take_top(36);
            pen.text_in(line, Type::heading_24, t.ink, w.ladder_title);
            const Rect said = below ? inside.take_top(26) : inside.take_top(4);
            pen.text_in(below ? Rect{said.x, said.y - 4, said.w, 22} : line, Type::body_15, t.ink2, w.ladder_said,
                        below ? Align::left : Align::right);
            draw_ladder(pen, inside, view.ui.outlook.shown->ladder);
            return std::nullopt;
          }};
}

// ------------------------------------------------------------------------------------------------ levers and places

Panel levers_panel(ScreenView& view, float width) {
  const OutlookWords& w = outlook_words();
  const auto& levers = view.ui.outlook.shown->levers;
  const float inside = width - 2 * across(view);
  const float number = 86;
  std::vector<float> rows;
  float height = 28 + title_high + 26;
  for (const auto& [said, change] : levers) {
    rows.push_back(view.pen.paragraph_height(inside - number, Type::body_16, said, 3) + 24);
    height += rows.back();
  }
  if (levers.empty()) height += 34;
  return {
      height, [&view, &w, &levers, rows, number](Rect area) -> std::optional<Wish> {
        Pen& pen = view.pen;
        const Theme& t = pen.theme;
        pen.fill(area, t.sheet, 8);
        Rect at = area.inset(across(view), 14);
        pen.text_in(at.take_top(34), Type::heading_24, t.ink, w.levers_title);
        const std::string then = say(w.levers_said, month_after(view, view.ui.outlook.shown->wanted.season));
        pen.text_in(at.take_top(36), Type::body_15, t.ink2, then);
        if (levers.empty()) {
          pen.paragraph(at, Type::body_16, t.ink, w.levers_none, 2);
          return std::nullopt;
        }
        double most = 0;
        for (const auto& [said, change] : levers) most = std::max(most, std::abs(change));
        for (std::size_t i = 0; i < levers.size(); ++i) {
          const auto& [said, change] = levers[i];
          Rect row = at.take_top(rows[i]);
          const std::string count = say(change < 0 ? w.fewer : w.more, few_words(std::abs(change)));
          pen.text_in({row.right() - number, row.y, number, 26}, Type::heading_24, change < 0 ? t.copper : t.leaf,
                      count, Align::right);
          const float used = pen.paragraph({row.x, row.y + 2, row.w - number, row.h}, Type::body_16, t.ink, said, 3);
          const Rect track{row.x, row.y + used + 6, row.w, 6};
          pen.fill(track, t.night ? t.ring : t.well, 3);
          const float wide = track.w * static_cast<float>(std::abs(change) / most);
          pen.fill({track.x, track.y, std::max(4.0F, wide), track.h}, change < 0 ? t.copper_fill : t.leaf_fill, 3);
        }
        return std::nullopt;
      }};
}

Panel places_panel(ScreenView& view, float width) {
  const OutlookWords& w = outlook_words();
  const auto& shown = *view.ui.outlook.shown;
  if (shown.places.empty()) return {};
  const float inside = width - 2 * across(view);
  const float said = view.pen.paragraph_height(inside, Type::body_16, shown.places_said, 4);
  const float height = 28 + title_high + said + 10 + 30 * static_cast<float>(shown.places.size());
  return {height, [&view, &w, &shown, said](Rect area) -> std::optional<Wish> {
            Pen& pen = view.pen;
            const Theme& t = pen.theme;
            pen.fill(area, t.sheet, 8);
            Rect at = area.inset(across(view), 14);
            pen.text_in(at.take_top(34, 6), Type::heading_24, t.ink, w.places_title);
            pen.paragraph(at.take_top(said, 10), Type::body_16, t.ink, shown.places_said, 4);
            bool first = true;
            for (const auto& [name, chance] : shown.places) {
              const Rect row = at.take_top(30);
              if (!first) pen.fill({row.x, row.y - 0.75F, row.w, 1.5F}, t.night ? t.ring : t.well);
              first = false;
              pen.text_in(row, Type::body_16, t.ink2, name);
              pen.text_in(row, Type::strong_16, t.ink, chance, Align::right);
            }
            return std::nullopt;
          }};
}

Panel missing_panel(ScreenView& view, float width) {
  const OutlookWords& w = outlook_words();
  const std::vector<std::string>& missing = view.ui.outlook.shown->missing;
  if (missing.empty()) return {};
  const float inside = width - 2 * across(view) - 18;
  std::vector<float> rows;
  float height = 28 + title_high + 30;
  for (const std::string& line : missing) {
    rows.push_back(view.pen.paragraph_height(inside, Type::body_15, line) + 8);
    height += rows.back();
  }
  return {height, [&view, &w, &missing, rows](Rect area) -> std::optional<Wish> {
            Pen& pen = view.pen;
            const Theme& t = pen.theme;
            pen.fill(area, t.sheet, 8);
            Rect at = area.inset(across(view), 14);
            pen.text_in(at.take_top(34), Type::heading_24, t.ink, w.missing_title);
            pen.text_in(at.take_top(40), pen.fitting({Type::body_16, Type::body_15}, w.missing_said, at.w), t.ink2,
                        w.missing_said);
            for (std::size_t i = 0; i < missing.size(); ++i) {
              const Rect row = at.take_top(rows[i]);
              pen.disc({row.x + 4, row.y + 11}, 3, t.tunic);
              pen.paragraph({row.x + 18, row.y, row.w - 18, row.h}, Type::body_15, t.ink2, missing[i]);
            }
            return std::nullopt;
          }};
}

}  // namespace motherbulb::ahead
