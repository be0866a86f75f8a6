#include "app/fonts.hpp"

#include <imgui.h>
#include <imgui_freetype.h>

#include <algorithm>
#include <cmath>
#include <filesystem>

namespace motherbulb {
namespace {

enum class Face { condensed, vollkorn, inter_medium, inter_semibold };

struct Role {
  Face face;
  float dp;
};

constexpr std::array<Role, type_count> roles{{
    {Face::condensed, 88},
    {Face::condensed, 56},
    {Face::condensed, 40},
    {Face::condensed, 36},
    {Face::condensed, 28},
    {Face::condensed, 24},
    {Face::condensed, 20},
    {Face::condensed, 18},
    {Face::vollkorn, 36},
    {Face::vollkorn, 28},
    {Face::vollkorn, 23},
    {Face::inter_medium, 18},
    {Face::inter_medium, 16},
    {Face::inter_medium, 15},
    {Face::inter_semibold, 18},
    {Face::inter_semibold, 16},
    {Face::inter_semibold, 15},
}};

// The library takes a size as the height of a line; this is the line height asked for one em of each face.
float lines_per_em(Face face) {
  switch (face) {
    case Face::condensed:
      return 1.22F;
    case Face::vollkorn:
      return 1.24F;
    case Face::inter_medium:
    case Face::inter_semibold:
      return 1.16F;
  }
  return 1.2F;
}

const char* file_of(Face face) {
  switch (face) {
    case Face::condensed:
      return "OpenSans-CondBold.ttf";
    case Face::vollkorn:
      return "Vollkorn-SemiBold.ttf";
    case Face::inter_medium:
      return "Inter-Medium.otf";
    case Face::inter_semibold:
      return "Inter-SemiBold.otf";
  }
  return "";
}

// Stands behind every face, for the scripts it lacks.
constexpr const char* file_behind = "NotoSans-Regular.ttf";

// Scripts are baked when a text first asks for one: an atlas of everything would delay the first frame.
constexpr unsigned script_latin = 1U << 0U;
constexpr unsigned script_latin_extended = 1U << 1U;
constexpr unsigned script_greek = 1U << 2U;
constexpr unsigned script_cyrillic = 1U << 3U;

unsigned script_of(unsigned code) {
  if (code < 0x100 || (code >= 0x2000 && code < 0x20D0) || (code >= 0x2190 && code < 0x2300)) return script_latin;
  if ((code >= 0x100 && code < 0x250) || (code >= 0x1E00 && code < 0x1F00)) return script_latin_extended;
  if (code >= 0x370 && code < 0x400) return script_greek;
  if (code >= 0x400 && code < 0x530) return script_cyrillic;
  return 0;  // no face of ours has it: a box is drawn
}

std::vector<ImWchar> ranges_of(unsigned scripts) {
  // Punctuation: dashes, quotes, ellipsis, primes, narrow space, euro, arrows' plain ones, minus, times, box.
  std::vector<ImWchar> ranges{0x20,   0xFF,   0x2010, 0x2027, 0x202F, 0x203A,
                              0x20AC, 0x20AC, 0x2212, 0x2212, 0xFFFD, 0xFFFD};
  const auto add = [&](int first, int last) {
    ranges.push_back(static_cast<ImWchar>(first));
    ranges.push_back(static_cast<ImWchar>(last));
  };
  if ((scripts & script_latin_extended) != 0) {
    add(0x100, 0x24F);
    add(0x1E00, 0x1EFF);
  }
  if ((scripts & script_greek) != 0) add(0x370, 0x3FF);
  if ((scripts & script_cyrillic) != 0) add(0x400, 0x52F);
  ranges.push_back(0);
  return ranges;
}

void make_digits_tabular(ImFont& font) {
  float widest = 0;
  for (ImWchar digit = '0'; digit <= '9'; ++digit) {
    if (const ImFontGlyph* glyph = font.FindGlyphNoFallback(digit)) widest = std::max(widest, glyph->AdvanceX);
  }
  for (ImWchar digit = '0'; digit <= '9'; ++digit) {
    const ImFontGlyph* found = font.FindGlyphNoFallback(digit);
    if (found == nullptr) continue;
    ImFontGlyph& glyph = font.Glyphs[static_cast<int>(found - font.Glyphs.Data)];
    const float shift = std::floor((widest - glyph.AdvanceX) / 2 + 0.5F);
    glyph.X0 += shift;
    glyph.X1 += shift;
    glyph.AdvanceX = widest;
    font.IndexAdvanceX[digit] = widest;
  }
}

}  // namespace

float type_dp(Type type) {
  return roles[static_cast<std::size_t>(type)].dp;
}

std::vector<std::string> Fonts::build(ImFontAtlas& atlas, const std::string& folder, float scale) {
  wanted_ |= script_latin;
  scale_ = scale;
  std::vector<std::string> missing;
  const std::vector<ImWchar> ranges = ranges_of(wanted_);

  atlas.Clear();
  atlas.FontBuilderIO = ImGuiFreeType::GetBuilderForFreeType();
  atlas.FontBuilderFlags = ImGuiFreeTypeBuilderFlags_LightHinting;
  atlas.Flags |= ImFontAtlasFlags_NoMouseCursors | ImFontAtlasFlags_NoBakedLines;
  atlas.TexGlyphPadding = 1;

  std::error_code ignored;
  for (std::size_t i = 0; i < roles.size(); ++i) {
    const Role role = roles[i];
    const std::string path = (std::filesystem::path(folder) / file_of(role.face)).string();
    ImFontConfig config;
    config.OversampleH = 1;
    config.OversampleV = 1;
    config.PixelSnapH = true;
    config.GlyphRanges = ranges.data();
    const float pixels = std::round(role.dp * scale * lines_per_em(role.face));
    if (std::filesystem::exists(path, ignored)) {
      fonts_[i] = atlas.AddFontFromFileTTF(path.c_str(), pixels, &config, ranges.data());
    } else {
      if (std::find(missing.begin(), missing.end(), path) == missing.end()) missing.push_back(path);
      ImFontConfig own;
      own.SizePixels = pixels;
      fonts_[i] = atlas.AddFontDefault(&own);
    }
    const std::string behind = (std::filesystem::path(folder) / file_behind).string();
    if (std::filesystem::exists(behind, ignored)) {
      config.MergeMode = true;
      fonts_[i] = atlas.AddFontFromFileTTF(behind.c_str(), pixels, &config, ranges.data());
    }
  }
  atlas.Build();
  baked_ = wanted_;

  for (std::size_t i = 0; i < roles.size(); ++i) {
    ImFont& font = *fonts_[i];
    if (roles[i].face == Face::inter_medium || roles[i].face == Face::inter_semibold) make_digits_tabular(font);
    const ImFontGlyph* capital = font.FindGlyph('H');
    caps_[i] = capital != nullptr ? capital->Y1 - capital->Y0 : roles[i].dp * scale * 0.7F;
  }
  return missing;
}

void Fonts::note_written(Written written) {
  const auto under = std::find_if(panels_.rbegin(), panels_.rend(),
                                  [&](const Rect& panel) { return panel.contains(written.box.middle()); });
  if (under != panels_.rend()) written.panel = *under;
  written_.push_back(std::move(written));
}

void Fonts::want(std::string_view text) {
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto lead = static_cast<unsigned char>(text[i]);
    if (lead < 0xC4) continue;  // ASCII, Latin-1, or the tail of a character
    unsigned code = 0;
    if (lead < 0xE0 && i + 1 < text.size()) {
      code = ((lead & 0x1FU) << 6U) | (static_cast<unsigned char>(text[i + 1]) & 0x3FU);
    } else if (lead < 0xF0 && i + 2 < text.size()) {
      code = ((lead & 0x0FU) << 12U) | ((static_cast<unsigned char>(text[i + 1]) & 0x3FU) << 6U) |
             (static_cast<unsigned char>(text[i + 2]) & 0x3FU);
    }
    wanted_ |= script_of(code);
  }
}

}  // namespace motherbulb
