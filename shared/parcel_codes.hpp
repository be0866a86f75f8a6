// A parcel as a sequence of codes: texts, one a QR code, that one device shows on its screen one after the other and
// another reads with its camera, in any order. FORMAT.md ("As a sequence of codes") is the specification; where it and
// this code differ, the code is wrong.
//
// A code is a text and not bytes because a browser hands over what its camera has read as a text: letters, figures and
// a few signs come through unchanged, other bytes do not. Written in base 45 (RFC 9285) they cost next to nothing, as
// QR codes pack exactly these 45 characters closely (alphanumeric mode, ISO/IEC 18004).
//
// Why 620 bytes a code: its text has 965 characters, and a QR code of version 20, level M, holds 970 (ISO/IEC 18004,
// table 7). That is 97 modules a side, 105 with the quiet zone, so that on a phone of 360 dp a module is still three
// pixels wide. Level M mends 15 % of it, such as a lamp's reflection on the glass. At level L the same bytes would fit
// into version 18, whose modules are no whole pixel wider on a phone of 360 dp or a tablet of 800.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "shared/result.hpp"

namespace motherbulb {

inline constexpr std::size_t code_content = 620;       // bytes of the parcel in each code but the last
inline constexpr std::size_t most_codes = 256;         // of one parcel; a reader refuses more
inline constexpr std::size_t longest_code_text = 965;  // characters

// How many codes so many bytes take; 0 for none.
[[nodiscard]] constexpr std::uint64_t codes_for(std::uint64_t bytes) {
  return bytes / code_content + (bytes % code_content > 0 ? 1 : 0);
}

// The texts of all codes of a parcel, in order. Refuses no bytes at all, and more than fit into `most_codes`.
Result<std::vector<std::string>> cut_into_codes(const std::vector<std::uint8_t>& parcel);

// What one code says.
struct CodePiece {
  std::array<std::uint8_t, 8> parcel{};  // the beginning of the whole parcel's digest
  std::uint32_t nth = 1;                 // from 1
  std::uint32_t count = 1;
  std::uint32_t length = 0;  // bytes of the whole parcel
  std::vector<std::uint8_t> content;
};

// The text of a piece; does not ask whether its numbers fit together.
[[nodiscard]] std::string write_code(const CodePiece& piece);

enum class CodeFault { foreign, newer, damaged };
struct CodeRead {
  std::optional<CodePiece> piece;
  CodeFault fault = CodeFault::foreign;  // where there is no piece
};
// What a camera read, as a piece whose check is right and whose numbers fit together. Trusts no byte; each piece has
// one text only.
[[nodiscard]] CodeRead read_code(std::string_view text);

// Gathers the codes of a parcel, in any order, each as often as it likes, among whatever else a camera sees.
//
// Invariants: (1) whole() is nothing but a parcel whose digest is the one that every code of it bears; pieces that make
// up another are all dropped, and gathering goes on with the parcel kept aside, if there is one. (2) At most two
// parcels' pieces are held, at most 2 * most_codes * code_content bytes.
//
// Two parcels. Shown and counted is one. Sound pieces of a second are kept aside, and it takes the first one's place
// (which is then kept aside in turn, so that nothing read is lost) once it is plainly what the camera is held at: when
// three different pieces of it were read with none of the first between them, or it is complete. So a device that
// starts handing out anew (another parcel, as it says when it was written) is followed within two seconds, while two
// screens in one picture do not drive each other out: one of them gets whole. A third parcel takes the place of the
// one kept aside.
class CodeCollector {
public:
  enum class Took {
    fresh,    // a piece not had before
    known,    // had already
    aside,    // of another parcel, which is not followed yet
    foreign,  // no code of a parcel
    newer,    // of a later version than this one reads
    damaged,  // a code of a parcel, but not as it was written
    undone,   // the last piece came, and together they are not the parcel that they say: all dropped
  };
  Took take(std::string_view text);

  [[nodiscard]] std::size_t count() const { return first_.pieces.size(); }  // of the parcel followed; 0: none seen yet
  [[nodiscard]] std::size_t have() const { return first_.have; }
  [[nodiscard]] bool has(std::size_t nth) const;  // from 1
  [[nodiscard]] std::vector<std::size_t> missing() const;
  // The parcel, once it is complete and right.
  [[nodiscard]] std::optional<std::vector<std::uint8_t>> whole() const;

private:
  struct Gathered {
    std::array<std::uint8_t, 8> parcel{};
    std::uint32_t length = 0;
    std::vector<std::vector<std::uint8_t>> pieces;  // empty: not had yet
    std::size_t have = 0;
    [[nodiscard]] bool is_of(const CodePiece& piece) const;
    [[nodiscard]] bool complete() const { return !pieces.empty() && have == pieces.size(); }
    [[nodiscard]] std::vector<std::uint8_t> joined() const;
    bool add(CodePiece&& piece);  // false where it was had
  };
  static constexpr std::size_t plainly = 3;

  Took settle(bool fresh);

  Gathered first_, aside_;
  std::vector<std::uint32_t> in_a_row_;  // different pieces of the one aside since the last of the first
};

}  // namespace motherbulb
