// Foreign texts as codes of a parcel. Beside not falling over: what is taken has that one text only, the count of what
// is had and missing is right at every step, and what comes together has the digest that its codes bear.
//
// A fuzzer makes no checks, so pieces are also made of its bytes by write_code, with whatever numbers they say.
#include <algorithm>
#include <string>

#include "shared/digest.hpp"
#include "shared/parcel_codes.hpp"
#include "tests/fuzz/seeds.hpp"

using namespace motherbulb;

namespace {

enum Sort : std::uint8_t { text, piece, of_parcel, sorts };

// Reads numbers and runs of bytes off the input; all 0 and empty at its end.
class Input {
public:
  Input(const std::uint8_t* data, std::size_t size) : at_(data), left_(size) {}
  [[nodiscard]] bool more() const { return left_ > 0; }
  std::uint32_t number(std::size_t bytes) {
    std::uint32_t value = 0;
    for (std::size_t i = 0; i < bytes && left_ > 0; ++i, ++at_, --left_) value = value << 8U | *at_;
    return value;
  }
  std::vector<std::uint8_t> run(std::size_t most) {
    const std::size_t count = std::min(most, left_);
    std::vector<std::uint8_t> bytes(at_, at_ + count);
    at_ += count;
    left_ -= count;
    return bytes;
  }

private:
  const std::uint8_t* at_;
  std::size_t left_;
};

std::vector<std::string> codes_of(const std::vector<std::uint8_t>& parcel) {
  Result<std::vector<std::string>> codes = cut_into_codes(parcel);
  CHECK_OURS(codes.ok());
  return *codes;
}

void check(const CodeCollector& collector) {
  CHECK_OURS(collector.count() <= most_codes);
  CHECK_OURS(collector.have() + collector.missing().size() == collector.count());
  for (const std::size_t nth : collector.missing()) CHECK_OURS(!collector.has(nth));
  const auto whole = collector.whole();
  if (!whole) return;
  CHECK_OURS(collector.missing().empty());
  CHECK_OURS(codes_for(whole->size()) == collector.count());
  // Its own codes are the ones that it has.
  CodeCollector again = collector;
  for (const std::string& code : codes_of(*whole)) CHECK_OURS(again.take(code) == CodeCollector::Took::known);
}

void take(CodeCollector& collector, const std::string& code) {
  const CodeRead read = read_code(code);
  if (read.piece) CHECK_OURS(write_code(*read.piece) == code);
  collector.take(code);
}

}  // namespace

std::vector<fuzz::Seed> fuzz::seeds() {
  std::vector<Seed> all;
  for (std::size_t i = 1; i <= 40; ++i) {
    std::vector<std::uint8_t> parcel(i * 61);
    for (std::size_t k = 0; k < parcel.size(); ++k) parcel[k] = static_cast<std::uint8_t>(k * i);
    for (const std::string& code : codes_of(parcel)) {
      Seed seed = {text, static_cast<std::uint8_t>(code.size() >> 8U), static_cast<std::uint8_t>(code.size())};
      seed.insert(seed.end(), code.begin(), code.end());
      all.push_back(seed);
    }
    Seed numbers = {piece, 0, 1, 0, 1, 0, 0, 0, static_cast<std::uint8_t>(i), 0, static_cast<std::uint8_t>(i)};
    numbers.insert(numbers.end(), i, 7);
    all.push_back(numbers);
    Seed pieces = {of_parcel, static_cast<std::uint8_t>(i), 0, 0, 1, 0, 2, 0, 1, 1, 0, 0, 2, 0, 0};
    all.push_back(pieces);
  }
  return all;
}

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  Input input(data + 1, size - 1);
  CodeCollector collector;
  const auto sort = data[0] % sorts;
  while (input.more()) {
    if (sort == text) {
      const std::vector<std::uint8_t> bytes = input.run(input.number(2) % 1200);
      take(collector, std::string(bytes.begin(), bytes.end()));
    } else if (sort == piece) {
      CodePiece made;
      made.nth = input.number(2);
      made.count = input.number(2);
      made.length = input.number(4);
      made.content = input.run(input.number(2) % 700);
      // The digest of a parcel of that piece alone, so that it may be right.
      const FactKey whole = digest_128({reinterpret_cast<const char*>(made.content.data()), made.content.size()});
      std::copy_n(whole.bytes.begin(), made.parcel.size(), made.parcel.begin());
      take(collector, write_code(made));
    } else {
      // Codes of three parcels in the input's order, some of them misread.
      const std::uint32_t which = input.number(1) % 3;
      std::vector<std::uint8_t> parcel(700U * (which + 1), static_cast<std::uint8_t>(which));
      const std::vector<std::string> codes = codes_of(parcel);
      std::string code = codes[input.number(1) % codes.size()];
      const std::uint32_t misread = input.number(1);
      if (misread != 0) code[misread * 3 % code.size()] = static_cast<char>(misread);
      take(collector, code);
    }
    check(collector);
  }
  return 0;
}
