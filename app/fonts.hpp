// The type scale (shared look, section 3) and the glyph atlas for it.
// Promise: every size is whole pixels at dp * scale; digits of the body fonts share one width; a text whose script is
// not in the atlas yet is noticed by `want` and drawn right once the atlas has been rebuilt.
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "app/geometry.hpp"
#include "app/theme.hpp"

struct ImFont;
struct ImFontAtlas;

namespace motherbulb {

// Role and dp. `numeral`, `heading`: Open Sans Condensed Bold; `name`: Vollkorn SemiBold; `body`, `strong`: Inter.
enum class Type {
  numeral_88,
  numeral_56,
  numeral_40,
  heading_36,
  heading_28,
  heading_24,
  heading_20,
  heading_18,
  name_36,
  name_28,
  name_23,
  body_18,
  body_16,
  body_15,
  strong_18,
  strong_16,
  strong_15,
};
inline constexpr std::size_t type_count = 17;

// The dp of the role: its em by name, used for line height (1.4 of it).
[[nodiscard]] float type_dp(Type type);

class Fonts {
public:
  // Builds the atlas for `scale` pixels a dp from the files in `folder` (assets/fonts beside the program). Names the
  // files that are missing, empty when all were found; a missing file is replaced by the library's own font, so a
  // window still opens.
  std::vector<std::string> build(ImFontAtlas& atlas, const std::string& folder, float scale);

  // Notices characters outside what is baked. Returns whether a rebuild is needed to draw `text`.
  void want(std::string_view text);
  [[nodiscard]] bool wants_rebuild() const { return wanted_ != baked_; }

  // What did not fit in this frame and was cut with an ellipsis, and, where asked for, all that was written: tests
  // look.
  struct Written {
    Rect box;    // from the top of its capitals to its baseline, dp
    Rect clip;   // what of the window it could show in
    Rect panel;  // the last filled before it on which its middle stands; empty: the pane
    Color color = 0;
    std::string words;
  };
  void keep_log(bool keep) { keeps_log_ = keep; }
  [[nodiscard]] bool keeps_log() const { return keeps_log_; }
  void note_written(Written written);
  void note_panel(Rect panel) { panels_.push_back(panel); }
  [[nodiscard]] const std::vector<Written>& written() const { return written_; }
  void begin_frame() {
    cut_.clear();
    written_.clear();
    panels_.clear();
  }
  void note_cut(std::string_view words) { cut_.emplace_back(words); }
  [[nodiscard]] const std::vector<std::string>& cut() const { return cut_; }

  [[nodiscard]] ImFont* get(Type type) const { return fonts_[static_cast<std::size_t>(type)]; }
  // Height of a capital, in pixels.
  [[nodiscard]] float cap(Type type) const { return caps_[static_cast<std::size_t>(type)]; }
  [[nodiscard]] float scale() const { return scale_; }

private:
  std::array<ImFont*, type_count> fonts_{};
  std::array<float, type_count> caps_{};
  std::vector<std::string> cut_;
  std::vector<Written> written_;
  std::vector<Rect> panels_;
  bool keeps_log_ = false;
  float scale_ = 0;
  unsigned baked_ = 0;  // bits of scripts
  unsigned wanted_ = 0;
};

}  // namespace motherbulb
