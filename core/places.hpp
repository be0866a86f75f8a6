// Places as people write them: "Skerry House, bench 2, no. 15" is position 15 of the bench "Skerry House, bench 2".
// A place without a number is a bench of its own, whose pots have no positions.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

namespace motherbulb {

struct PlaceParts {
  std::string bench;          // house and bench, as written, without the position; empty: no place is known
  std::int32_t position = 0;  // from 1; 0: none
  friend bool operator==(const PlaceParts& a, const PlaceParts& b) {
    return a.bench == b.bench && a.position == b.position;
  }
};

// The last part after a comma, where it is a number with or without "no", "no.", "nr", "nr.", "#" or "position" before
// it, is the position. Anything else is part of the bench: "bench 2" is the bench 2 and not position 2 of a bench.
[[nodiscard]] PlaceParts split_place(std::string_view place);
[[nodiscard]] std::string join_place(const PlaceParts& parts);  // "BENCH, no. 15"
// What of a bench's name tells it from the others in one house: "bench 2" of "Skerry House, bench 2".
[[nodiscard]] std::string near_name(std::string_view bench);
// Benches in walking order: numbers in them count as numbers, so that bench 10 comes after bench 9.
[[nodiscard]] bool walked_before(std::string_view a, std::string_view b);

}  // namespace motherbulb
