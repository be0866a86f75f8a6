#include <sodium.h>
#include <zstd.h>

#include <algorithm>

#include "shared/blocks.hpp"
#include "shared/parcel.hpp"
#include "shared/text.hpp"

namespace motherbulb {

namespace {

struct FreeContext {
  void operator()(ZSTD_CCtx* context) const { ZSTD_freeCCtx(context); }
};

// More effort gains less than half a byte an entry and takes longer than all else.
constexpr int effort = 3;

Error too_large(const std::string& what, const std::string& limit) {
  return Error{
      ErrorKind::refused, what + " is larger than a parcel can carry (" + limit + "); no parcel was written", {}};
}

}  // namespace

struct ParcelWriter::Inside {
  ByteSink& sink;
  std::uint64_t written = 0;
  std::uint64_t blocks = 0;
  std::uint64_t entries = 0;
  Hash chain;
  std::vector<ParcelRun> runs;
  Hash previous;
  bool in_run = false;
  std::optional<Error> trouble;  // the first; nothing is written after it
  BlockWriter block;
  ByteString body;
  ByteString content;
  ByteString packed;
  std::unique_ptr<ZSTD_CCtx, FreeContext> context{ZSTD_createCCtx()};

  explicit Inside(ByteSink& to) : sink(to) { CHECK_OURS(context != nullptr); }

  Outcome stop(Error error) {
    trouble = error;
    return error;
  }

  Outcome write(const std::uint8_t* bytes, std::size_t count) {
    Outcome done = sink.write(bytes, count);
    if (!done) return stop(done.error());
    written += count;
    return Done{};
  }

  Outcome write_block() {
    const std::uint32_t count = block.entries();
    if (count == 0) return Done{};
    block.take_content(content);
    packed.resize(ZSTD_compressBound(content.size()));
    const std::size_t size =
        ZSTD_compressCCtx(context.get(), packed.data(), packed.size(), content.data(), content.size(), effort);
    CHECK_OURS(!ZSTD_isError(size));
    const bool plain = size >= content.size();
    const ByteString& bytes = plain ? content : packed;
    const std::size_t bytes_size = plain ? content.size() : size;
    ByteString head;
    frame::put(count, 4, head);
    frame::put(content.size(), 4, head);
    frame::put(bytes_size, 4, head);
    chain = frame::chained(chain, head.data(), head.size(), bytes.data(), bytes_size);
    head.insert(head.end(), chain.bytes.begin(), chain.bytes.end());
    ++blocks;
    if (Outcome done = write(head.data(), head.size()); !done) return done;
    return write(bytes.data(), bytes_size);
  }
};

ParcelWriter::ParcelWriter(ByteSink& sink, const ParcelHead& head) : inside_(std::make_unique<Inside>(sink)) {
  ByteString bytes(frame::magic.begin(), frame::magic.end());
  frame::put(frame::version, 2, bytes);
  bytes.insert(bytes.end(), head.written_by.bytes.begin(), head.written_by.bytes.end());
  frame::put(static_cast<std::uint64_t>(head.written_at_ms), 8, bytes);
  inside_->chain = frame::chained(Hash{}, nullptr, 0, bytes.data(), bytes.size());
  bytes.insert(bytes.end(), inside_->chain.bytes.begin(), inside_->chain.bytes.end());
  (void)inside_->write(bytes.data(), bytes.size());  // a failure stays in `trouble`, and the next call gives it
}

ParcelWriter::~ParcelWriter() = default;

void ParcelWriter::begin_run(const WriterId& writer, std::uint64_t first, const Hash& before) {
  CHECK_OURS(!inside_->in_run);
  if (first == 0) {  // a damaged store; the next call gives it
    inside_->trouble = Error{ErrorKind::damaged,
                             "an entry of " + hex(writer) +
                                 " in this book has the number 0; run check, and restore "
                                 "a backup",
                             {}};
  }
  inside_->in_run = true;
  inside_->runs.push_back({writer, first, 0, before, before});
  inside_->previous = before;
}

Outcome ParcelWriter::add(const Entry& entry) {
  Inside& in = *inside_;
  if (in.trouble) return *in.trouble;
  CHECK_OURS(in.in_run);
  ParcelRun& run = in.runs.back();
  const auto described = [&entry] { return "entry " + std::to_string(entry.id.seq) + " of " + hex(entry.id.writer); };
  if (entry.id.writer != run.writer) {  // a damaged store hands out what another wrote
    return in.stop(
        {ErrorKind::damaged,
         described() + " stands among those of " + hex(run.writer) + " in this book; run check, and restore a backup",
         {}});
  }
  if (entry.id.seq != run.first + run.count) {  // a damaged store has holes
    return in.stop({ErrorKind::damaged,
                    "entry " + std::to_string(run.first + run.count) + " of " + hex(run.writer) +
                        " is missing in this book; run check, and restore a backup",
                    {}});
  }
  in.body.clear();
  append_canonical_body(entry, in.body);
  if (in.body.size() > frame::greatest_body_size) return in.stop(too_large(described(), "2 MiB"));
  const bool sound = entry.kind > 0 && entry.pot >= 0 && entry.when.offset_minutes >= -frame::greatest_offset_minutes &&
                     entry.when.offset_minutes <= frame::greatest_offset_minutes &&
                     entry.id.seq <= frame::greatest_seq && is_utf8(entry.helper) &&
                     (!entry.table || is_utf8(entry.table->device));
  if (!sound) {
    return in.stop({ErrorKind::damaged,
                    described() + " in this book holds what no entry can hold; run check, and restore a backup",
                    {}});
  }
  if (in.block.size() + in.body.size() > frame::usual_block_size ||
      in.block.entries() == frame::greatest_block_entries) {
    if (Outcome done = in.write_block(); !done) return done;
  }
  in.block.add(entry);
  in.previous = entry_hash(in.previous, in.body);
  ++run.count;
  ++in.entries;
  return Done{};
}

Outcome ParcelWriter::end_run(const Hash& last) {
  Inside& in = *inside_;
  if (in.trouble) return *in.trouble;
  CHECK_OURS(in.in_run);
  in.in_run = false;
  ParcelRun& run = in.runs.back();
  run.last = last;
  // What a reader would refuse is not handed on.
  if (in.previous != last || (run.first == 1 && run.before != first_hash(run.writer))) {
    return in.stop({ErrorKind::damaged,
                    "entries " + std::to_string(run.first) + " to " + std::to_string(run.first + run.count - 1) +
                        " of " + hex(run.writer) +
                        " in this book are not what was written; run check, and restore a backup",
                    {}});
  }
  if (run.count == 0) {
    in.runs.pop_back();
    return Done{};
  }
  return in.write_block();
}

Outcome ParcelWriter::finish(const std::vector<Known>& vector) {
  Inside& in = *inside_;
  if (in.trouble) return *in.trouble;
  CHECK_OURS(!in.in_run);
  std::vector<Known> sorted = vector;
  std::sort(sorted.begin(), sorted.end(), [](const Known& a, const Known& b) { return a.writer < b.writer; });
  ByteString bytes(in.chain.bytes.begin(), in.chain.bytes.end());
  frame::put(in.blocks, 8, bytes);
  frame::put(in.entries, 8, bytes);
  const auto put_bytes = [&bytes](const auto& value) {
    bytes.insert(bytes.end(), value.bytes.begin(), value.bytes.end());
  };
  frame::put_number(in.runs.size(), bytes);
  for (const ParcelRun& run : in.runs) {
    put_bytes(run.writer);
    frame::put_number(run.first, bytes);
    frame::put_number(run.count, bytes);
    put_bytes(run.before);
    put_bytes(run.last);
  }
  frame::put_number(sorted.size(), bytes);
  for (const Known& known : sorted) {
    put_bytes(known.writer);
    frame::put_number(known.last, bytes);
    put_bytes(known.head);
  }
  const std::size_t size = bytes.size() + frame::tail_size;
  if (size > frame::greatest_trailer_size) {
    return in.stop(too_large(
        "the list of " + std::to_string(sorted.size()) + " writers and " + std::to_string(in.runs.size()) + " runs",
        "4 MiB"));
  }
  frame::put(size, 4, bytes);
  frame::put(in.written + size, 8, bytes);
  const Hash check = frame::chained(Hash{}, nullptr, 0, bytes.data(), bytes.size());
  put_bytes(check);
  bytes.insert(bytes.end(), frame::end_mark.begin(), frame::end_mark.end());
  return in.write(bytes.data(), bytes.size());
}

}  // namespace motherbulb
