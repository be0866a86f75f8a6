#include "app/widgets/see_tiles.hpp"

#include <algorithm>

#include "app/widgets/labels.hpp"
#include "app/widgets/mother.hpp"
#include "app/words.hpp"
#include "app/words/bench.hpp"

namespace motherbulb {
namespace {
constexpr std::size_t on_page = 7;
}

const std::vector<SeenKind>& seen_kinds() {
  static const std::vector<SeenKind> kinds{{Cause::pest, "bulb mite", "bulb mite", Icon::mite},
                                           {Cause::pest, "thrips", "thrips", Icon::thrips},
                                           {Cause::pest, "bulb fly", "bulb fly", Icon::fly},
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

std::string seen_words(Cause cause, std::string_view detail) {
  if (const SeenKind* kind = kind_of(cause, detail)) return std::string(kind->words);
  return std::string(detail.empty() ? name_of(cause) : detail);
}

Icon seen_icon(Cause cause, std::string_view detail) {
  if (const SeenKind* kind = kind_of(cause, detail)) return kind->icon;
  return icon_of(cause);
}

SeeAnswer draw_see_tiles(Pen& pen, Rect area, std::size_t page, std::optional<std::size_t> chosen) {
  const Theme& t = pen.theme;
  const BenchWords& w = bench_words();
  constexpr float gap = 8;
  SeeAnswer answer;
  const float wide = (area.w - 3 * gap) / 4;
  const float high = (area.h - gap) / 2;
  const auto& kinds = seen_kinds();
  for (std::size_t i = 0; i <= on_page; ++i) {
    const Rect tile{area.x + static_cast<float>(i % 4) * (wide + gap),
                    area.y + static_cast<float>(i / 4) * (high + gap), wide, high};
    const std::size_t at = page * on_page + i;
    const bool turns = i == on_page;
    if (!turns && at >= kinds.size()) continue;
    const std::string name = turns ? std::string("see:other") : "see:" + std::string(kinds[at].words);
    if (pen.touch.hit(name, tile)) {
      if (turns) {
        answer.turn = true;
      } else {
        answer.kind = at;
      }
    }
    const bool pressed = is_pressed(pen, name);
    const bool on = !turns && chosen == at && !pressed;
    pen.fill(tile, pressed ? t.straw : on ? t.tunic : t.sheet, 6);
    if (!on) pen.frame(tile, pressed ? t.on_straw : t.edge);
    const Color mark = pressed ? t.on_straw : on ? t.on_tunic : turns ? t.tunic : t.copper;
    const Color ink = pressed ? t.on_straw : on ? t.on_tunic : t.ink;
    const Icon icon = !turns ? kinds[at].icon : page + 1 == see_pages() ? Icon::back : Icon::note;
    const std::string_view word = !turns                    ? kinds[at].words
                                  : page == 0               ? w.other
                                  : page + 1 == see_pages() ? w.first_ones
                                                            : w.more;
    const Type type = pen.fitting({Type::heading_20, Type::heading_18}, word, wide - 14);
    const std::size_t space = word.find(' ');
    if (space != std::string_view::npos && pen.width(type, word) > wide - 14) {
      // A narrow tile: one word below the other.
      draw_icon(pen, icon, {tile.middle().x, tile.y + high * 0.27F}, 25, mark);
      const Rect line{tile.x + 3, tile.y + high * 0.46F, wide - 6, high * 0.25F};
      pen.text_in(line, type, ink, word.substr(0, space), Align::middle);
      pen.text_in(line.moved(0, line.h), type, ink, word.substr(space + 1), Align::middle);
      continue;
    }
    draw_icon(pen, icon, {tile.middle().x, tile.y + high * 0.37F}, high >= 90 ? 34.0F : 28.0F, mark);
    pen.text_in({tile.x + 3, tile.y + high * 0.62F, wide - 6, high * 0.32F}, type, ink, word, Align::middle);
  }
  return answer;
}

}  // namespace motherbulb
