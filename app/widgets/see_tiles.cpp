#include "app/widgets/see_tiles.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include "app/widgets/labels.hpp"
#include "app/widgets/mother.hpp"
#include "app/words.hpp"
#include "app/words/bench.hpp"
#include "app/words/health.hpp"
#include "core/health/troubles.hpp"

namespace motherbulb {
namespace {
constexpr std::size_t on_page = 7;
}

const std::vector<SeenKind>& seen_kinds() {
  static const std::vector<SeenKind> kinds{{Cause::pest, "bulb mite", "bulb mite", Icon::mite},
                                           {Cause::pest, "thrips", "thrips", Icon::thrips},
                                           {Cause::pest, "bulb fly", "large bulb fly", Icon::fly},
                                           {Cause::animal, "slug", "slug", Icon::slug},
                                           {Cause::animal, "mouse", "mouse", Icon::mouse},
                                           {Cause::rot, "", "rot", Icon::rot},
                                           {Cause::disease, "red blotch", "red blotch", Icon::blotch},

                                           {Cause::pest, "mealybug", "mealybug", Icon::wool},
                                           {Cause::pest, "eelworm", "eelworm", Icon::worm},
                                           {Cause::pest, "aphid", "aphid", Icon::aphid},
                                           {Cause::disease, "mosaic", "mosaic", Icon::mosaic},
                                           {Cause::disease, "ring spots", "ring spots", Icon::rings},
                                           {Cause::frost, "", "frost", Icon::frost},
                                           {Cause::dried_out, "", "dried out", Icon::dried},

                                           {Cause::rot, "basal rot", "basal rot", Icon::bulb},
                                           {Cause::rot, "soft rot", "soft rot", Icon::drop},
                                           {Cause::rot, "blue mould", "blue mould", Icon::mould},
                                           {Cause::pest, "grub", "grub", Icon::grub},
                                           {Cause::animal, "vole", "vole", Icon::mouse},
                                           {Cause::animal, "squirrel", "squirrel", Icon::squirrel},
                                           {Cause::unknown, "", "not known", Icon::unknown}};
  return kinds;
}

std::size_t see_pages() {
  return (seen_kinds().size() + on_page - 1) / on_page;
}

namespace {
const SeenKind* kind_of(Cause cause, std::string_view detail) {
  const auto& kinds = seen_kinds();
  const auto found = std::find_if(kinds.begin(), kinds.end(),
                                  [&](const SeenKind& kind) { return kind.cause == cause && kind.detail == detail; });
  return found == kinds.end() ? nullptr : &*found;
}
}  // namespace

namespace {

// The icon of a trouble, by what its id speaks of. The first that fits counts.
std::optional<Icon> icon_of_trouble(const Trouble& trouble) {
  constexpr std::array<std::pair<std::string_view, Icon>, 30> words_and_icons{
      {{"fly", Icon::fly},           {"mite", Icon::mite},         {"thrips", Icon::thrips}, {"mealybug", Icon::wool},
       {"nematode", Icon::worm},     {"eelworm", Icon::worm},      {"aphid", Icon::aphid},   {"grub", Icon::grub},
       {"caterpillar", Icon::grub},  {"armyworm", Icon::grub},     {"slug", Icon::slug},     {"snail", Icon::slug},
       {"squirrel", Icon::squirrel}, {"chipmunk", Icon::squirrel}, {"vole", Icon::mouse},    {"mouse", Icon::mouse},
       {"mice", Icon::mouse},        {"blotch", Icon::blotch},     {"scorch", Icon::blotch}, {"cucumber", Icon::rings},
       {"wilt", Icon::rings},        {"ring", Icon::rings},        {"mosaic", Icon::mosaic}, {"latent", Icon::mosaic},
       {"virus", Icon::mosaic},      {"mould", Icon::mould},       {"blight", Icon::mould},  {"soft", Icon::drop},
       {"basal", Icon::bulb},        {"fusarium", Icon::bulb}}};
  for (const auto& [word, icon] : words_and_icons) {
    if (trouble.id.find(word) != std::string::npos) return icon;
  }
  return std::nullopt;
}

}  // namespace

const std::vector<const Trouble*>& particulars_of(std::size_t kind) {
  static const std::vector<std::vector<const Trouble*>> by_kind = [] {
    std::vector<std::vector<const Trouble*>> all(seen_kinds().size());
    for (std::size_t i = 0; i < all.size(); ++i) {
      const SeenKind& one = seen_kinds()[i];
      // A tile without a detail stands for its whole cause.
      for (const Trouble& trouble : troubles()) {
        if (trouble.cause != one.cause || one.cause == Cause::unknown) continue;
        if (one.detail.empty() || icon_of_trouble(trouble) == one.icon) all[i].push_back(&trouble);
      }
    }
    return all;
  }();
  return by_kind[kind];
}

std::string seen_words(Cause cause, std::string_view detail) {
  if (const SeenKind* kind = kind_of(cause, detail)) return std::string(kind->words);
  if (const Trouble* trouble = trouble_of(detail)) return trouble->name;
  return std::string(detail.empty() ? name_of(cause) : detail);
}

Icon seen_icon(Cause cause, std::string_view detail) {
  if (const SeenKind* kind = kind_of(cause, detail)) return kind->icon;
  if (const Trouble* trouble = trouble_of(detail)) return icon_of_trouble(*trouble).value_or(icon_of(cause));
  return icon_of(cause);
}

namespace {

// An icon with a word or two below it, or one word below the other where the tile is narrow.
struct Tile {
  std::string name;
  Icon icon = Icon::unknown;
  std::string_view words;
  bool on = false;
  bool leads_on = false;
};
bool draw_tile(Pen& pen, Rect tile, const Tile& one) {
  const Theme& t = pen.theme;
  const bool tapped = pen.touch.hit(one.name, tile);
  const bool pressed = is_pressed(pen, one.name);
  const bool on = one.on && !pressed;
  pen.fill(tile, pressed ? t.straw : on ? t.tunic : t.sheet, 6);
  if (!on) pen.frame(tile, pressed ? t.on_straw : t.edge);
  const Color mark = pressed ? t.on_straw : on ? t.on_tunic : one.leads_on ? t.tunic : t.copper;
  const Color ink = pressed ? t.on_straw : on ? t.on_tunic : t.ink;
  const float room = tile.w - 14;
  const Type type = pen.fitting({Type::heading_20, Type::heading_18}, one.words, room);
  if (pen.width(type, one.words) <= room) {
    draw_icon(pen, one.icon, {tile.middle().x, tile.y + tile.h * 0.37F}, tile.h >= 90 ? 34.0F : 28.0F, mark);
    pen.text_in({tile.x + 3, tile.y + tile.h * 0.62F, tile.w - 6, tile.h * 0.32F}, type, ink, one.words, Align::middle);
    return tapped;
  }
  // Split where the longer half is shortest.
  std::size_t split = std::string_view::npos;
  float least = 1e9F;
  for (std::size_t space = one.words.find(' '); space != std::string_view::npos;
       space = one.words.find(' ', space + 1)) {
    const float wide =
        std::max(pen.width(type, one.words.substr(0, space)), pen.width(type, one.words.substr(space + 1)));
    if (wide < least) {
      least = wide;
      split = space;
    }
  }
  if (split == std::string_view::npos) split = one.words.size();
  const std::string_view first = one.words.substr(0, split);
  const std::string_view second = split < one.words.size() ? one.words.substr(split + 1) : std::string_view();
  const float line_room = tile.w - 6;
  Type small = type;
  for (const Type next : {Type::heading_18, Type::strong_15}) {
    if (std::max(pen.width(small, first), pen.width(small, second)) > line_room) small = next;
  }
  draw_icon(pen, one.icon, {tile.middle().x, tile.y + tile.h * 0.27F}, 25, mark);
  const Rect line{tile.x + 3, tile.y + tile.h * 0.46F, line_room, tile.h * 0.25F};
  pen.text_in(line, small, ink, first, Align::middle);
  if (!second.empty()) pen.text_in(line.moved(0, line.h), small, ink, second, Align::middle);
  return tapped;
}

Rect tile_at(Rect area, std::size_t i) {
  constexpr float gap = 8;
  const float wide = (area.w - 3 * gap) / 4;
  const float high = (area.h - gap) / 2;
  return {area.x + static_cast<float>(i % 4) * (wide + gap), area.y + static_cast<float>(i / 4) * (high + gap), wide,
          high};
}

}  // namespace

SeeAnswer draw_see_tiles(Pen& pen, Rect area, std::size_t page, std::optional<std::size_t> chosen,
                         std::string_view particular) {
  const BenchWords& w = bench_words();
  SeeAnswer answer;
  const auto& kinds = seen_kinds();
  for (std::size_t i = 0; i < on_page; ++i) {
    const std::size_t at = page * on_page + i;
    if (at >= kinds.size()) continue;
    const Trouble* named = chosen == at ? trouble_of(particular) : nullptr;
    const std::string_view words_of = named != nullptr ? std::string_view(named->name) : kinds[at].words;
    if (draw_tile(pen, tile_at(area, i),
                  {"see:" + std::string(kinds[at].words), kinds[at].icon, words_of, chosen == at, false}))
      answer.kind = at;
  }
  const Rect last = tile_at(area, on_page);
  if (chosen && *chosen / on_page == page && particulars_of(*chosen).size() > 1) {
    answer.which = draw_tile(pen, last, {"see:which", Icon::next, health_words().which, false, true});
    return answer;
  }
  const bool last_page = page + 1 == see_pages();
  const std::string_view word = page == 0 ? w.other : last_page ? w.first_ones : w.more;
  answer.turn = draw_tile(pen, last, {"see:other", last_page ? Icon::back : Icon::note, word, false, true});
  return answer;
}

WhichAnswer draw_which_tiles(Pen& pen, Rect area, std::size_t kind, std::string_view particular) {
  WhichAnswer answer;
  const std::vector<const Trouble*>& all = particulars_of(kind);
  const std::size_t shown = std::min(all.size(), on_page);
  for (std::size_t i = 0; i < shown; ++i) {
    const Trouble& one = *all[i];
    const Icon icon = icon_of_trouble(one).value_or(seen_kinds()[kind].icon);
    if (draw_tile(pen, tile_at(area, i), {"which:" + one.id, icon, one.name, one.id == particular, false}))
      answer.particular = one.id;
  }
  if (draw_tile(pen, tile_at(area, on_page), {"which:any", Icon::back, health_words().which_any, false, true}))
    answer.particular = "";
  return answer;
}

}  // namespace motherbulb
