// What can be said of a picture without taste: see Driver::check_picture.

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "app/theme.hpp"
#include "tests/screens/drive.hpp"

namespace motherbulb::drive {
namespace {

struct Picture {
  std::vector<std::uint8_t> bytes;
  int width = 0, height = 0;
  float scale = 1;

  [[nodiscard]] Color at(int x, int y) const {
    const std::size_t i =
        (static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)) * 3;
    return rgb((static_cast<std::uint32_t>(bytes[i]) << 16U) | (static_cast<std::uint32_t>(bytes[i + 1]) << 8U) |
               bytes[i + 2]);
  }
  // The colour that most pixels of a rectangle have, `but` left out, and how many share it.
  struct Ground {
    Color color = 0;
    double share = 0;
  };
  [[nodiscard]] Ground ground(Rect r, std::optional<Color> but = std::nullopt) const {
    std::vector<Color> seen;
    const int left = std::max(0, static_cast<int>(std::floor(r.x * scale)));
    const int top = std::max(0, static_cast<int>(std::floor(r.y * scale)));
    const int right = std::min(width, static_cast<int>(std::ceil(r.right() * scale)));
    const int bottom = std::min(height, static_cast<int>(std::ceil(r.bottom() * scale)));
    for (int y = top; y < bottom; ++y) {
      for (int x = left; x < right; ++x) {
        const Color color = at(x, y);
        if (color != but) seen.push_back(color);
      }
    }
    std::sort(seen.begin(), seen.end());
    Ground best;
    for (std::size_t i = 0; i < seen.size();) {
      std::size_t end = i;
      while (end < seen.size() && seen[end] == seen[i]) ++end;
      const double share = static_cast<double>(end - i) / static_cast<double>(seen.size());
      if (share > best.share) best = {seen[i], share};
      i = end;
    }
    return best;
  }
};

// The library's own style (Dear ImGui 1.86, StyleColorsDark and Light) shows by these.
constexpr std::uint32_t library_colors[] = {0x4296FA, 0x294A7A, 0x2F4F75, 0x3D85E0};

constexpr double least_contrast = 7.0;
constexpr double rounding = 0.05;  // colours are whole numbers, and tokens were chosen at 7.0 and a little

}  // namespace

void Driver::check_picture(const std::string& where, bool half_may_be_empty) {
  Picture picture;
  picture.bytes = window->pixels();
  picture.width = window->width_px();
  picture.height = window->height_px();
  picture.scale = app->fonts().scale();
  CAPTURE(where);
  const Rect whole{0, 0, static_cast<float>(picture.width) / picture.scale,
                   static_cast<float>(picture.height) / picture.scale};

  const std::vector<Fonts::Written> written = app->fonts().written();
  for (std::size_t i = 0; i < written.size(); ++i) {
    const Fonts::Written& one = written[i];
    const Rect seen = intersection(intersection(one.box, one.clip), whole);
    // Scrolled out of sight, or cut through by the panel's edge: seen whole when it is scrolled to.
    if (seen.h < one.box.h - 0.5F) continue;
    CAPTURE(one.words);
    CHECK_MESSAGE(seen.w >= one.box.w - 1.0F, "runs out of its panel or the window by " << one.box.w - seen.w << " dp");
    // Round the letters, from a little left of the first to a little right of the last.
    const Rect around{one.box.x - 3, one.box.y - 3, one.box.w + 6, one.box.h + 6};
    const Picture::Ground ground = picture.ground(around, one.color);
    if (ground.share == 0) {
      CHECK_MESSAGE(false, "is not to be seen");
      continue;
    }
    const double found = contrast(one.color, ground.color);
    CHECK_MESSAGE(found >= least_contrast - rounding, "contrast " << found);
    // At its two ends too: it does not run over the edge of what it stands on.
    const Rect before{one.box.x - 3, one.box.y, 2, one.box.h};
    const Rect behind{one.box.right() + 1, one.box.y, 2, one.box.h};
    for (const Rect& strip : {before, behind}) {
      const Picture::Ground there = picture.ground(strip, one.color);
      if (there.share < 0.6) continue;
      const double end = contrast(one.color, there.color);
      CHECK_MESSAGE(end >= least_contrast - rounding, "contrast at an end " << end);
    }
    const Rect panel = one.panel;
    CHECK_MESSAGE((panel.empty() || (one.box.x >= panel.x - 0.5F && one.box.right() <= panel.right() + 0.5F)),
                  "runs over the edge of its panel");
    for (std::size_t k = i + 1; k < written.size(); ++k) {
      const Rect both = intersection(intersection(one.box, written[k].box), intersection(one.clip, written[k].clip));
      if (both.w > 2 && both.h > 2) {
        CHECK_MESSAGE(false, "is written over by '" << written[k].words << "'");
      }
    }
  }

  // The page in halves, along its longer side: something stands in each.
  const float bar = app->fonts().scale() > 0 && whole.w >= 1000 && whole.w > whole.h ? 108.0F : 0.0F;
  const Rect page{bar, 0, whole.w - bar, whole.h - (bar > 0 ? 0.0F : 80.0F)};
  const bool beside = page.w > page.h;
  const Rect halves[2] = {beside ? Rect{page.x, page.y, page.w / 2, page.h} : Rect{page.x, page.y, page.w, page.h / 2},
                          beside ? Rect{page.x + page.w / 2, page.y, page.w / 2, page.h}
                                 : Rect{page.x, page.y + page.h / 2, page.w, page.h / 2}};
  for (const Rect& half : halves) {
    const double empty = [&] {
      const Color pane = app->ground();
      int same = 0;
      int all = 0;
      for (int y = static_cast<int>(half.y * picture.scale); y < static_cast<int>(half.bottom() * picture.scale);
           y += 2) {
        for (int x = static_cast<int>(half.x * picture.scale); x < static_cast<int>(half.right() * picture.scale);
             x += 2) {
          if (x >= picture.width || y >= picture.height) continue;
          same += picture.at(x, y) == pane ? 1 : 0;
          ++all;
        }
      }
      return all > 0 ? static_cast<double>(same) / all : 0;
    }();
    CHECK_MESSAGE((half_may_be_empty || empty < 0.97), "half of the page is empty: " << empty);
  }

  for (int y = 0; y < picture.height; y += 3) {
    for (int x = 0; x < picture.width; x += 3) {
      for (const std::uint32_t color : library_colors) {
        if (picture.at(x, y) == rgb(color)) FAIL_CHECK("a colour of the library's own style is drawn");
      }
    }
  }
}

}  // namespace motherbulb::drive
