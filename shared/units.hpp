// Sizes, and the words of the trade that are chosen from a list. The number of each enumerator is written to entries
// and never reused.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace motherbulb {

// Circumference at the widest, in millimetres: low ≤ girth < high. An end that is open is -1. A grade with both ends
// open is a bulb that nobody sized. `0-2` and `-2` are two ways of writing that stay as written.
struct Grade {
  std::int32_t low_mm = -1;
  std::int32_t high_mm = -1;

  bool sized() const { return low_mm >= 0 || high_mm >= 0; }
  friend bool operator==(Grade a, Grade b) { return a.low_mm == b.low_mm && a.high_mm == b.high_mm; }
  friend bool operator!=(Grade a, Grade b) { return !(a == b); }
  // Smaller bulbs first; unsized ones before all.
  friend bool operator<(Grade a, Grade b) {
    if (a.sized() != b.sized()) return b.sized();
    if (a.low_mm != b.low_mm) return a.low_mm < b.low_mm;
    return (a.high_mm < 0 ? INT32_MAX : a.high_mm) < (b.high_mm < 0 ? INT32_MAX : b.high_mm);
  }
};

std::string to_text(Grade grade);  // in cm: 2-4, 2.5-4, 16+, -2; unsized is empty
// LOW-HIGH, LOW+, -HIGH in cm with at most one decimal, and as people write them: `2–4`, `2/4`, `2 to 4`, `2 - 4 cm`.
// None for anything else, for LOW ≥ HIGH, and for sizes above 200 cm.
std::optional<Grade> grade_from_text(std::string_view text);

enum class Method : std::uint8_t {
  offsets = 1,
  halving,
  quartering,
  chipping,
  cross_cutting,
  scoring,
  scooping,
  twin_scaling,
  scaling,
  growing_on
};
// Cuts the mother, so that pieces and not bulbs are what the batch begins with.
inline bool cuts(Method method) {
  return method != Method::offsets && method != Method::growing_on;
}
// The mother is cut from below and stays one piece; its number of sections is then the number of sectors.
inline bool leaves_mother_whole(Method method) {
  return method == Method::cross_cutting || method == Method::scoring || method == Method::scooping;
}
std::string_view to_text(Method method);
std::optional<Method> method_from_text(std::string_view text);

enum class Cause : std::uint8_t { unknown = 0, rot, pest, disease, animal, frost, dried_out };
inline constexpr int cause_count = 7;
std::string_view to_text(Cause cause);  // unknown, rot, pest, disease, animal, frost, dried-out
std::optional<Cause> cause_from_text(std::string_view text);

enum class Unit : std::uint8_t { unsaid = 0, pieces, bulbs };
enum class YesNo : std::uint8_t { unsaid = 0, no, yes };
enum class Blade : std::uint8_t { unsaid = 0, not_disinfected, per_batch, per_bulb };
enum class Moisture : std::uint8_t { unsaid = 0, dry, damp, wet };
enum class TestResult : std::uint8_t { unsaid = 0, negative, positive, unclear };
std::string_view to_text(YesNo value);
std::string_view to_text(Blade value);       // "", no, per-batch, per-bulb
std::string_view to_text(Moisture value);    // "", dry, damp, wet
std::string_view to_text(TestResult value);  // "", negative, positive, unclear
std::optional<YesNo> yes_no_from_text(std::string_view text);
std::optional<Blade> blade_from_text(std::string_view text);
std::optional<Moisture> moisture_from_text(std::string_view text);
std::optional<TestResult> test_result_from_text(std::string_view text);

}  // namespace motherbulb
