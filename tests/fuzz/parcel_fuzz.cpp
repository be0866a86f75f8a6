// Foreign bytes as a parcel, as a block's content, as a payload, as an entry's body. Beside not falling over: what is
// taken can be written again and read to the same; and each payload and body has one encoding only.
//
// A fuzzer cannot make checksums, so a parcel's are put right here before it is read; but for those of the runs, which
// hang on what is inside.
#include "shared/blocks.hpp"
#include "shared/codec.hpp"
#include "shared/parcel.hpp"
#include "tests/fuzz/seeds.hpp"
#include "tests/shared/sample.hpp"

using namespace motherbulb;

namespace {

enum Sort : std::uint8_t { parcel, content, fact, body, sorts };

void put_checksums_right(ByteString& bytes) {
  const std::size_t head_covered = frame::head_size - frame::hash_size;
  if (bytes.size() < frame::head_size + frame::tail_size) return;
  const auto put = [&bytes](const Hash& hash, std::size_t at) {
    std::copy(hash.bytes.begin(), hash.bytes.end(), bytes.begin() + static_cast<std::ptrdiff_t>(at));
  };
  Hash chain = frame::chained(Hash{}, nullptr, 0, bytes.data(), head_covered);
  put(chain, head_covered);
  std::uint8_t* tail = bytes.data() + bytes.size() - frame::tail_size;
  const std::uint64_t trailer_size = frame::get(tail, 4);
  if (trailer_size < frame::tail_size + frame::hash_size || trailer_size > bytes.size() - frame::head_size) return;
  const std::size_t trailer = bytes.size() - static_cast<std::size_t>(trailer_size);
  std::size_t at = frame::head_size;
  while (trailer - at >= frame::block_head_size) {
    const std::uint8_t* head = bytes.data() + at;
    const std::uint64_t packed = frame::get(head + 8, 4);
    if (packed > trailer - at - frame::block_head_size) break;
    chain = frame::chained(chain, head, 12, head + frame::block_head_size, static_cast<std::size_t>(packed));
    put(chain, at + 12);
    at += frame::block_head_size + static_cast<std::size_t>(packed);
  }
  put(chain, trailer);
  for (int i = 0; i < 8; ++i) tail[4 + i] = static_cast<std::uint8_t>(std::uint64_t{bytes.size()} >> (8 * i));
  const std::size_t check = bytes.size() - frame::hash_size - frame::end_mark.size();
  put(frame::chained(Hash{}, nullptr, 0, bytes.data() + trailer, check - trailer), check);
  std::copy(frame::end_mark.begin(), frame::end_mark.end(), bytes.end() - 8);
}

void read_parcel(ByteString bytes) {
  put_checksums_right(bytes);
  Result<sample::Read> read = sample::read(bytes);
  if (!read) {
    CHECK_OURS(!read.error().what.empty());
    return;
  }
  Result<ByteString> written = sample::write(read->runs, read->vector, read->head);
  CHECK_OURS(written.ok());
  Result<sample::Read> again = sample::read(*written);
  CHECK_OURS(again.ok());
  CHECK_OURS(sample::same(again->runs, read->runs));
  CHECK_OURS(again->vector == read->vector);
}

void read_content(const ByteString& given) {
  if (given.size() < 2) return;
  const auto entries = static_cast<std::uint32_t>(given[0] | given[1] << 8);
  ByteString bytes(given.begin() + 2, given.end());
  const std::size_t size = bytes.size();
  bytes.resize(size + BlockReader::slack);
  BlockReader reader;
  if (!reader.open(bytes.data(), size, entries)) return;
  BlockWriter writer;
  std::vector<Entry> all;
  Entry entry;
  while (reader.left() > 0) {
    if (!reader.next(entry)) return;
    all.push_back(entry);
    writer.add(entry);
  }
  const std::size_t most = writer.size();
  ByteString again;
  writer.take_content(again);
  CHECK_OURS(again.size() <= most);
  const std::size_t again_size = again.size();
  again.resize(again_size + BlockReader::slack);
  CHECK_OURS(reader.open(again.data(), again_size, entries));
  for (const Entry& wanted : all) {
    CHECK_OURS(reader.next(entry));
    CHECK_OURS(canonical_body(entry) == canonical_body(wanted));
  }
}

void read_fact(const ByteString& given) {
  if (given.empty()) return;
  const ByteString bytes(given.begin() + 1, given.end());
  const Payload payload = decode(given[0], bytes);
  if (std::holds_alternative<FromNewerVersion>(payload)) return;
  CHECK_OURS(kind_number(payload) == given[0]);
  CHECK_OURS(encode(payload) == bytes);
}

void read_body(const ByteString& bytes) {
  const std::optional<Entry> entry = entry_from_body(EntryId{}, bytes.data(), bytes.size());
  if (entry) CHECK_OURS(canonical_body(*entry) == bytes);
}

}  // namespace

std::vector<fuzz::Seed> fuzz::seeds() {
  std::vector<Seed> all;
  const auto add = [&all](Sort sort, const ByteString& bytes) {
    Seed seed = {sort};
    seed.insert(seed.end(), bytes.begin(), bytes.end());
    all.push_back(std::move(seed));
  };
  std::mt19937_64 random(1);
  for (std::size_t i = 0; i < 100; ++i) {
    std::vector<sample::Run> runs;
    for (std::uint8_t device = 0; device <= i % 3; ++device) {
      runs.push_back(sample::taps(random, device, i == 0 ? 0 : 1 + i / 10 * device + i % 7, 5));
    }
    if (i % 5 == 0) {
      Entry entry = sample::entry_of(Watered{}, 5);
      entry.table = TableOrigin{sample::bytes_from<FactKey>(1), {1, i}, "B"};
      runs.back().add(entry);
    }
    add(parcel, sample::write(runs, sample::vector_of(runs)).ok() ? *sample::write(runs, sample::vector_of(runs))
                                                                  : ByteString());
    BlockWriter block;
    for (const Entry& entry : runs.back().entries) block.add(entry);
    ByteString bytes;
    frame::put(block.entries(), 2, bytes);
    ByteString inside;
    block.take_content(inside);
    bytes.insert(bytes.end(), inside.begin(), inside.end());
    add(content, bytes);
    for (const Entry& entry : runs.back().entries) add(body, canonical_body(entry));
  }
  for (const Payload& payload : sample::one_of_each_kind()) {
    ByteString bytes = {static_cast<std::uint8_t>(kind_number(payload))};
    const ByteString encoded = encode(payload);
    bytes.insert(bytes.end(), encoded.begin(), encoded.end());
    add(fact, bytes);
  }
  return all;
}

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  const ByteString bytes(data + 1, data + size);
  switch (data[0] % sorts) {
    case parcel:
      read_parcel(bytes);
      break;
    case content:
      read_content(bytes);
      break;
    case fact:
      read_fact(bytes);
      break;
    default:
      read_body(bytes);
  }
  return 0;
}
