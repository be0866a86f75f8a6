#include <sodium.h>
#include <zstd.h>

#include <cstring>

#include "shared/blocks.hpp"
#include "shared/codec.hpp"
#include "shared/parcel.hpp"

namespace motherbulb {

namespace {

struct FreeContext {
  void operator()(ZSTD_DCtx* context) const { ZSTD_freeDCtx(context); }
};

Error damaged(const std::string& name, const std::string& what) {
  return {ErrorKind::damaged,
          name + " is damaged: " + what +
              ". Nothing of it was taken; copy it again from the device that wrote it, or write a new parcel there",
          {}};
}

Error foreign(const std::string& name) {
  return {ErrorKind::foreign,
          name + " is not a parcel; choose a file that the program's parcel command or merge screen wrote",
          {}};
}

Hash hash_at(const std::uint8_t* at) {
  Hash hash;
  std::memcpy(hash.bytes.data(), at, hash.bytes.size());
  return hash;
}

}  // namespace

struct ParcelReader::Inside {
  ByteSource& source;
  ParcelHead head;
  std::vector<ParcelRun> runs;
  std::vector<Known> vector;
  std::uint64_t entries = 0;
  std::uint64_t blocks = 0;
  std::uint64_t trailer_at = 0;
  Hash end_of_chain;

  std::uint64_t position = frame::head_size;
  std::uint64_t blocks_read = 0;
  Hash chain;
  std::size_t next = 0;    // the run that next_run gives
  std::uint64_t left = 0;  // entries of the run that is being read
  std::uint64_t seq = 0;
  Hash previous;
  std::optional<Error> trouble;  // the first; it stays
  BlockReader block;
  ByteString packed;   // as it came, with the block reader's slack behind it
  ByteString content;  // likewise
  bool plain = false;  // the block's bytes are its content
  ByteString hashed;   // the hash before an entry, then its canonical body
  std::unique_ptr<ZSTD_DCtx, FreeContext> context{ZSTD_createDCtx()};

  explicit Inside(ByteSource& from) : source(from) { CHECK_OURS(context != nullptr); }

  Error stop(Error error) {
    trouble = error;
    return error;
  }
  Error stop(const std::string& what) { return stop(damaged(source.name(), what)); }
  std::string this_block() const { return "block " + std::to_string(blocks_read + 1); }

  Outcome open();
  Outcome read_trailer(const ByteString& bytes);
  // The next block's bytes into `packed` (or `content`, where it stands there as it is), checked; its number of
  // entries and the size of its content.
  Outcome read_block(std::uint32_t& count, std::uint32_t& size);
  Outcome open_block();
  Outcome check_end();
};

Outcome ParcelReader::Inside::open() {
  const std::uint64_t size = source.size();
  std::array<std::uint8_t, frame::head_size> bytes{};
  const std::size_t there = size < bytes.size() ? static_cast<std::size_t>(size) : bytes.size();
  if (Outcome done = source.read(0, bytes.data(), there); !done) return done;
  const std::size_t of_magic = there < frame::magic.size() ? there : frame::magic.size();
  if (of_magic == 0 || std::memcmp(bytes.data(), frame::magic.data(), of_magic) != 0) return foreign(source.name());
  const auto version = static_cast<std::uint16_t>(frame::get(bytes.data() + 8, 2));
  if (there >= 10 && version > frame::version) {
    return Error{ErrorKind::newer,
                 source.name() + " was written by a newer version of this program (parcel format " +
                     std::to_string(version) + "; this one reads up to " + std::to_string(frame::version) +
                     "). Nothing of it was taken; install the newer version here",
                 {}};
  }
  const std::size_t covered = frame::head_size - frame::hash_size;
  if (there < frame::head_size) return damaged(source.name(), "it ends within its first bytes");
  chain = frame::chained(Hash{}, nullptr, 0, bytes.data(), covered);
  if (version == 0 || chain != hash_at(bytes.data() + covered)) {
    return damaged(source.name(), "its first bytes are not what was written");
  }
  std::memcpy(head.written_by.bytes.data(), bytes.data() + 10, 16);
  head.written_at_ms = static_cast<std::int64_t>(frame::get(bytes.data() + 26, 8));

  const Error cut = damaged(source.name(), "it does not end as a parcel does, so it was cut short or added to");
  if (size < frame::head_size + frame::least_trailer_size) return cut;
  std::array<std::uint8_t, frame::tail_size> tail{};
  if (Outcome done = source.read(size - tail.size(), tail.data(), tail.size()); !done) return done;
  const std::uint64_t trailer_size = frame::get(tail.data(), 4);
  const bool whole = frame::get(tail.data() + 4, 8) == size &&
                     std::memcmp(tail.data() + frame::tail_size - 8, frame::end_mark.data(), 8) == 0;
  if (!whole) return cut;
  if (trailer_size < frame::least_trailer_size || trailer_size > frame::greatest_trailer_size ||
      trailer_size > size - frame::head_size) {
    return damaged(source.name(), "its last part has an impossible size");
  }
  trailer_at = size - trailer_size;
  ByteString trailer(static_cast<std::size_t>(trailer_size));
  if (Outcome done = source.read(trailer_at, trailer.data(), trailer.size()); !done) return done;
  return read_trailer(trailer);
}

Outcome ParcelReader::Inside::read_trailer(const ByteString& bytes) {
  const std::size_t checked = bytes.size() - frame::hash_size - 8;
  const Error wrong = damaged(source.name(), "its last part is not what was written");
  if (frame::chained(Hash{}, nullptr, 0, bytes.data(), checked) != hash_at(bytes.data() + checked)) return wrong;
  end_of_chain = hash_at(bytes.data());
  blocks = frame::get(bytes.data() + 32, 8);
  entries = frame::get(bytes.data() + 40, 8);

  FactReader in(bytes.data() + 48, bytes.size() - 48 - frame::tail_size);
  const std::size_t run_count = in.count(16 + 1 + 1 + 32 + 32);
  runs.reserve(run_count);
  std::uint64_t sum = 0;
  for (std::size_t i = 0; i < run_count; ++i) {
    ParcelRun run;
    in.raw(run.writer.bytes.data(), 16);
    run.first = in.number();
    run.count = in.number();
    in.raw(run.before.bytes.data(), 32);
    in.raw(run.last.bytes.data(), 32);
    if (in.failed() || run.first == 0 || run.count == 0 || run.first > frame::greatest_seq ||
        run.count - 1 > frame::greatest_seq - run.first || run.count > frame::greatest_seq - sum ||
        (run.first == 1 && run.before != first_hash(run.writer))) {
      return wrong;
    }
    sum += run.count;
    runs.push_back(run);
  }
  const std::size_t known_count = in.count(16 + 1 + 32);
  vector.reserve(known_count);
  for (std::size_t i = 0; i < known_count; ++i) {
    Known known;
    in.raw(known.writer.bytes.data(), 16);
    known.last = in.number();
    in.raw(known.head.bytes.data(), 32);
    if (in.failed() || known.last == 0 || known.last > frame::greatest_seq ||
        (!vector.empty() && !(vector.back().writer < known.writer))) {
      return wrong;
    }
    vector.push_back(known);
  }
  if (!in.finished() || sum != entries) return wrong;
  return Done{};
}

Outcome ParcelReader::Inside::read_block(std::uint32_t& count, std::uint32_t& size) {
  std::array<std::uint8_t, frame::block_head_size> bytes{};
  if (blocks_read == blocks || trailer_at - position < bytes.size()) {
    return stop("it holds fewer entries than its last part says");
  }
  if (Outcome done = source.read(position, bytes.data(), bytes.size()); !done) return stop(done.error());
  position += bytes.size();
  count = static_cast<std::uint32_t>(frame::get(bytes.data(), 4));
  size = static_cast<std::uint32_t>(frame::get(bytes.data() + 4, 4));
  const std::uint64_t packed_size = frame::get(bytes.data() + 8, 4);
  if (size > frame::greatest_block_size || packed_size > size || packed_size > trailer_at - position || count == 0 ||
      count > frame::greatest_block_entries) {
    return stop(this_block() + " has an impossible size");
  }
  plain = packed_size == size;
  ByteString& into = plain ? content : packed;
  into.resize(static_cast<std::size_t>(packed_size) + BlockReader::slack);
  if (Outcome done = source.read(position, into.data(), into.size() - BlockReader::slack); !done) {
    return stop(done.error());
  }
  position += packed_size;
  chain = frame::chained(chain, bytes.data(), 12, into.data(), into.size() - BlockReader::slack);
  if (chain != hash_at(bytes.data() + 12)) return stop(this_block() + " is not what was written");
  return Done{};
}

Outcome ParcelReader::Inside::open_block() {
  std::uint32_t count = 0;
  std::uint32_t size = 0;
  if (Outcome done = read_block(count, size); !done) return done;
  if (!plain) {
    content.resize(size + BlockReader::slack);
    const std::size_t packed_size = packed.size() - BlockReader::slack;
    if (ZSTD_findFrameCompressedSize(packed.data(), packed_size) != packed_size ||
        ZSTD_decompressDCtx(context.get(), content.data(), size, packed.data(), packed_size) != size) {
      return stop(this_block() + " cannot be unpacked");
    }
  }
  if (count > left || !block.open(content.data(), size, count)) {
    return stop(this_block() + " does not hold what it should");
  }
  ++blocks_read;
  return Done{};
}

Outcome ParcelReader::Inside::check_end() {
  if (blocks_read != blocks || position != trailer_at || chain != end_of_chain) {
    return stop("it does not hold what its last part says");
  }
  return Done{};
}

ParcelReader::ParcelReader(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
ParcelReader::~ParcelReader() = default;

Result<std::unique_ptr<ParcelReader>> ParcelReader::open(ByteSource& source) {
  auto inside = std::make_unique<Inside>(source);
  if (Outcome done = inside->open(); !done) return done.error();
  return std::unique_ptr<ParcelReader>(new ParcelReader(std::move(inside)));
}

const ParcelHead& ParcelReader::head() const {
  return inside_->head;
}
const std::vector<Known>& ParcelReader::vector() const {
  return inside_->vector;
}
const std::vector<ParcelRun>& ParcelReader::runs() const {
  return inside_->runs;
}
std::uint64_t ParcelReader::entries() const {
  return inside_->entries;
}

Result<std::optional<ParcelRun>> ParcelReader::next_run() {
  Inside& in = *inside_;
  if (in.trouble) return *in.trouble;
  CHECK_OURS(in.left == 0);
  if (in.next == in.runs.size()) {
    if (Outcome done = in.check_end(); !done) return done.error();
    return std::optional<ParcelRun>();
  }
  const ParcelRun& run = in.runs[in.next++];
  in.left = run.count;
  in.seq = run.first;
  in.previous = run.before;
  return std::optional<ParcelRun>(run);
}

Result<bool> ParcelReader::next_entry(Entry& entry, Hash& hash) {
  Inside& in = *inside_;
  if (in.trouble) return *in.trouble;
  if (in.left == 0) return false;
  if (in.block.left() == 0) {
    if (Outcome done = in.open_block(); !done) return done.error();
  }
  const ParcelRun& run = in.runs[in.next - 1];
  entry.id.writer = run.writer;
  entry.id.seq = in.seq;
  if (!in.block.next(entry)) {
    return in.stop("block " + std::to_string(in.blocks_read) + " holds what is no entry");
  }
  const std::size_t room = sizeof in.previous.bytes + greatest_canonical_size(entry);
  if (in.hashed.size() < room) in.hashed.resize(room);
  std::memcpy(in.hashed.data(), in.previous.bytes.data(), in.previous.bytes.size());
  const std::uint8_t* end = write_canonical_body(entry, in.hashed.data() + in.previous.bytes.size());
  const auto size = static_cast<std::size_t>(end - in.hashed.data());
  if (size - in.previous.bytes.size() > frame::greatest_body_size) {
    return in.stop("an entry of block " + std::to_string(in.blocks_read) + " is too large");
  }
  crypto_generichash(hash.bytes.data(), hash.bytes.size(), in.hashed.data(), size, nullptr, 0);
  in.previous = hash;
  ++in.seq;
  if (--in.left == 0 && hash != run.last) {
    return in.stop("entries " + std::to_string(run.first) + " to " + std::to_string(run.first + run.count - 1) +
                   " of " + hex(run.writer) + " are not what was written");
  }
  return true;
}

Outcome ParcelReader::check_frame() {
  Inside& in = *inside_;
  if (in.trouble) return *in.trouble;
  CHECK_OURS(in.next == 0);
  std::uint64_t counted = 0;
  for (in.blocks_read = 0; in.blocks_read < in.blocks; ++in.blocks_read) {
    std::uint32_t count = 0;
    std::uint32_t size = 0;
    if (Outcome done = in.read_block(count, size); !done) return done;
    counted += count;
  }
  if (counted != in.entries) return in.stop("it does not hold what its last part says");
  in.next = in.runs.size();
  return in.check_end();
}

}  // namespace motherbulb
