// A damaged store, or any bytes in its place: opened, read, checked, folded, written to. Whatever is refused is refused
// in words.
#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include "core/logbook.hpp"
#include "tests/fake_host.hpp"
#include "tests/fuzz/seeds.hpp"

using namespace motherbulb;

namespace {

// What an input is: a whole file, or places in a sound store and what stands there instead.
enum Sort : std::uint8_t { whole, places, sorts };

// A folder of this run's own, gone with it.
class Folder {
public:
  Folder()
      : path_(
            (std::filesystem::temp_directory_path() / ("motherbulb-store-fuzz-" + std::to_string(getpid()))).string()) {
    std::filesystem::create_directories(path_);
  }
  ~Folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  const std::string& path() const { return path_; }

private:
  std::string path_;
};

const std::string& folder() {
  static const Folder made;
  return made.path();
}

void remove_store(const std::string& path) {
  for (const char* end : {"", "-wal", "-shm", "-journal"}) std::filesystem::remove(path + end);
}

Record record(const BatchId& batch, std::int32_t pot, Payload fact) {
  Record wish;
  wish.helper = "Runa";
  wish.batch = batch;
  wish.pot = pot;
  wish.fact = std::move(fact);
  wish.sure = true;
  return wish;
}

// A small sound store: a batch, its pots, a count, a loss, a matter.
const std::vector<std::uint8_t>& sound_store() {
  static const std::vector<std::uint8_t> bytes = [] {
    const std::string path = folder() + "/sound.book";
    remove_store(path);
    FakeHost host;
    {
      OpenWish wish;
      wish.create = true;
      auto opened = Logbook::open(path, wish, host);
      CHECK_OURS(opened.ok());
      Logbook& book = **opened;
      Begun begun;
      begun.clone = "Tirna Red";
      begun.genus = "Hippeastrum";
      begun.method = Method::chipping;
      begun.sections = 8;
      begun.mothers = {Line{Grade{240, 260}, 2, Cause::unknown, "", ""}};
      begun.label = book.next_label(2026);
      const auto receipt = book.run(record(BatchId{}, 0, begun));
      CHECK_OURS(receipt.ok());
      const BatchId batch = receipt->batch;
      const auto tap = [&](std::int32_t pot, Payload fact) {
        host.advance_minutes(3);
        CHECK_OURS(book.run(record(batch, pot, std::move(fact))).ok());
      };
      const Lines eight = {Line{std::nullopt, 8, Cause::unknown, "", ""}};
      tap(1, Potted{Unit::pieces, eight, "house 1", ""});
      tap(2, Potted{Unit::pieces, eight, "house 1", ""});
      tap(1, Lost{{Line{std::nullopt, 1, Cause::rot, "", ""}}, ""});
      tap(1, Unpotted{{Line{Grade{-1, 20}, 4, Cause::unknown, "", ""}}, 6, {}, "wet"});
      tap(0, Sold{{Line{Grade{-1, 20}, 5, Cause::unknown, "", ""}}, 500, ""});
      tap(2, Looked{3, Moisture::damp, YesNo::no, ""});
    }
    std::ifstream file(path, std::ios::binary);
    const std::string read{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
    CHECK_OURS(!read.empty());
    return std::vector<std::uint8_t>(read.begin(), read.end());
  }();
  return bytes;
}

void use(const std::string& path, bool read_only) {
  FakeHost host;
  OpenWish wish;
  wish.read_only = read_only;
  auto opened = Logbook::open(path, wish, host);
  if (!opened) {
    CHECK_OURS(!opened.error().what.empty());
    return;
  }
  Logbook& book = **opened;
  const auto checked = book.check();
  if (!checked) CHECK_OURS(!checked.error().what.empty());
  (void)book.stock();
  (void)book.matters();
  (void)book.digest();
  for (const BatchState& batch : book.batches()) {
    (void)book.story(batch.id);
    (void)book.pots_of(batch.id);
  }
  MemorySink sink;
  (void)book.write_parcel(sink, nullptr);
  if (read_only) return;
  const auto kept = book.run(record(BatchId{}, 0, Note{"one more"}));
  if (!kept) CHECK_OURS(!kept.error().what.empty());
}

}  // namespace

std::vector<fuzz::Seed> fuzz::seeds() {
  std::vector<Seed> all;
  const std::vector<std::uint8_t>& sound = sound_store();
  Seed seed = {whole, 0};
  seed.insert(seed.end(), sound.begin(), sound.end());
  all.push_back(seed);
  seed.resize(seed.size() / 2);
  all.push_back(seed);
  all.push_back({whole, 0});
  all.push_back({whole, 1, 'n', 'o', ' ', 's', 't', 'o', 'r', 'e'});
  all.push_back({places, 0});
  for (std::size_t at = 0; at < sound.size(); at += sound.size() / 500) {
    all.push_back({places, static_cast<std::uint8_t>(at / 97 % 2), static_cast<std::uint8_t>(at),
                   static_cast<std::uint8_t>(at >> 8), static_cast<std::uint8_t>(at >> 16),
                   static_cast<std::uint8_t>(sound[at] ^ 1 << at % 8)});
  }
  return all;
}

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size < 2) return 0;
  std::vector<std::uint8_t> store;
  if (data[0] % sorts == whole) {
    store.assign(data + 2, data + size);
  } else {
    store = sound_store();
    for (std::size_t i = 2; i + 4 <= size; i += 4) {
      const std::size_t at = data[i] | std::size_t{data[i + 1]} << 8 | std::size_t{data[i + 2]} << 16;
      store[at % store.size()] = data[i + 3];
    }
  }
  const std::string path = folder() + "/tried.book";
  remove_store(path);
  std::ofstream(path, std::ios::binary)
      .write(reinterpret_cast<const char*>(store.data()), static_cast<std::streamsize>(store.size()));
  use(path, data[1] % 2 == 1);
  return 0;
}
