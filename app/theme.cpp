#include "app/theme.hpp"

#include <cmath>
#include <initializer_list>

namespace motherbulb {
namespace {

std::uint32_t channel(Color color, unsigned shift) {
  return (color >> shift) & 0xFFU;
}

// WCAG 2.2, "relative luminance".
double luminance(Color color) {
  const auto linear = [](std::uint32_t value) {
    const double share = static_cast<double>(value) / 255.0;
    return share <= 0.04045 ? share / 12.92 : std::pow((share + 0.055) / 1.055, 2.4);
  };
  return 0.2126 * linear(channel(color, 0)) + 0.7152 * linear(channel(color, 8)) + 0.0722 * linear(channel(color, 16));
}

Theme make_day() {
  Theme t;
  t.night = false;
  t.pane = rgb(0xE2EBE1);
  t.sheet = rgb(0xFBFCF7);
  t.well = rgb(0xD3DFD2);
  t.ring = rgb(0xDDE8DB);
  t.tint = rgb(0xEEF3EA);
  t.ink = rgb(0x24101B);
  t.ink2 = rgb(0x4B3542);
  t.on_ink = rgb(0xF6FAF1);
  t.on_ink2 = rgb(0xDDE8DB);
  t.edge = rgb(0x7D6974);
  t.tunic = rgb(0x6C1539);
  t.on_tunic = rgb(0xFFF7F2);
  t.bar = rgb(0x4A0E29);
  t.on_bar = rgb(0xF6FAF1);
  t.leaf = rgb(0x17492D);
  t.leaf_fill = rgb(0x2F7D4F);
  t.leaf_bar = rgb(0x1C623A);
  t.on_leaf_bar = rgb(0xFFFFFF);
  t.copper = rgb(0x762B0A);
  t.copper_fill = rgb(0xB9521D);
  t.slate = rgb(0x23406A);
  t.slate_fill = rgb(0x5573A3);
  t.straw = rgb(0xF3CF52);
  t.straw_large = rgb(0xF3CF52);
  t.on_straw = rgb(0x24101B);
  t.paper = rgb(0xFBFCF7);
  t.on_paper = rgb(0x24101B);
  t.skin = t.tunic;
  t.proposed = mix(t.straw, t.sheet, 0.62F);
  t.sold = mix(t.slate_fill, t.sheet, 0.68F);
  t.error_ground = mix(t.copper_fill, t.sheet, 0.84F);
  t.growing_ground = mix(t.leaf_fill, t.sheet, 0.84F);
  return t;
}

Theme make_night() {
  Theme t;
  t.night = true;
  t.pane = rgb(0x1B0E16);
  t.sheet = rgb(0x2A1722);
  t.well = rgb(0x12080E);
  t.ring = rgb(0x3A2230);
  t.tint = rgb(0x22121C);
  t.ink = rgb(0xECF4E9);
  t.ink2 = rgb(0xCBD6C9);
  t.on_ink = rgb(0x24101B);
  t.on_ink2 = rgb(0x4B3542);
  t.edge = rgb(0x8F7A86);
  t.tunic = rgb(0xF0A3BB);
  t.on_tunic = rgb(0x2A0B18);
  t.bar = rgb(0x12080E);
  t.on_bar = rgb(0xECF4E9);
  t.leaf = rgb(0x93DBA8);
  t.leaf_fill = rgb(0x5FB27E);
  t.leaf_bar = rgb(0x66BA85);
  t.on_leaf_bar = rgb(0x2A0B18);
  t.copper = rgb(0xFFB48C);
  t.copper_fill = rgb(0xEE8A55);
  t.slate = rgb(0xB4CDF5);
  t.slate_fill = rgb(0x7F9FD3);
  t.straw = rgb(0xF1CF5C);
  t.straw_large = rgb(0xDDBB4C);
  t.on_straw = rgb(0x2A0B18);
  t.paper = rgb(0xECF4E9);
  t.on_paper = rgb(0x24101B);
  t.skin = mix(t.tunic, t.pane, 0.45F);
  t.proposed = mix(t.straw, t.sheet, 0.86F);
  t.sold = mix(t.slate_fill, t.sheet, 0.66F);
  t.error_ground = mix(t.copper_fill, t.sheet, 0.78F);
  t.growing_ground = mix(t.leaf_fill, t.sheet, 0.82F);
  return t;
}

}  // namespace

Color mix(Color from, Color towards, float share) {
  Color mixed = 0xFF000000U;
  for (const unsigned shift : {0U, 8U, 16U}) {
    const float value =
        static_cast<float>(channel(from, shift)) * (1 - share) + static_cast<float>(channel(towards, shift)) * share;
    mixed |= static_cast<std::uint32_t>(std::lround(value)) << shift;
  }
  return mixed;
}

Color with_alpha(Color color, float alpha) {
  return (color & 0x00FFFFFFU) | (static_cast<std::uint32_t>(std::lround(alpha * 255.0F)) << 24U);
}

double contrast(Color a, Color b) {
  const double la = luminance(a);
  const double lb = luminance(b);
  return la > lb ? (la + 0.05) / (lb + 0.05) : (lb + 0.05) / (la + 0.05);
}

const Theme& day_theme() {
  static const Theme theme = make_day();
  return theme;
}

const Theme& night_theme() {
  static const Theme theme = make_night();
  return theme;
}

}  // namespace motherbulb
