// The bench: what the book costs beside what bare SQLite costs for the same rows, in one run on one machine.
//
//   motherbulb_bench [--entries N] [--folder FOLDER] [--only WORD]
//
// Prints one line a figure: what it is, ours, the bare one, their ratio, and what is to be reached. Exit 1 where a
// figure is over. Times are processor seconds where nothing else is said; a figure runs in a process of its own.
#include <sodium.h>

#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "core/demo.hpp"
#include "core/logbook.hpp"
#include "core/table.hpp"
#include "platform/files.hpp"
#include "shared/parcel.hpp"
#include "tests/bench/bare.hpp"
#include "tests/bench/due.hpp"
#include "tests/bench/frames.hpp"
#include "tests/bench/measure.hpp"
#include "tests/bench/science.hpp"
#include "tests/bench/season.hpp"

namespace motherbulb::bench {
namespace {

struct Options {
  std::uint64_t entries = 1'000'000;
  std::string folder, only;
};

int over = 0;

void print(const char* what, double ours, double bare, const char* unit, double most) {
  const double ratio = bare > 0 ? ours / bare : 0;
  const bool good = ratio <= most;
  if (!good) ++over;
  std::printf("%-52s %10.3f %10.3f %-4s ratio %6.2f  at most %5.2f  %s\n", what, ours, bare, unit, ratio, most,
              good ? "good" : "OVER");
  std::fflush(stdout);
}
void print(const char* what, double ours, const char* unit, double most) {
  const bool good = ours <= most;
  if (!good) ++over;
  std::printf("%-52s %10.3f %10s %-4s               at most %5g  %s\n", what, ours, "", unit, most,
              good ? "good" : "OVER");
  std::fflush(stdout);
}
void say(const char* what, double value, const char* unit) {
  std::printf("%-52s %10.3f %10s %s\n", what, value, "", unit);
  std::fflush(stdout);
}

class Bench {
public:
  explicit Bench(Options options) : options_(std::move(options)) {
    std::filesystem::create_directories(options_.folder);
  }
  ~Bench() {
    std::error_code ignored;
    std::filesystem::remove_all(options_.folder, ignored);
  }
  Bench(const Bench&) = delete;
  Bench& operator=(const Bench&) = delete;

  void run() {
    demo_parcel();
    frames();
    due();
    yields();
    chance_of_loss();
    read_parcel();
    make_books();
    appends();
    merges();
    hundreds();
    refold();
    table();
  }

private:
  std::string file(const std::string& name) const { return options_.folder + "/" + name; }
  bool wanted(const char* word) const { return options_.only.empty() || options_.only == word; }
  double entries() const { return static_cast<double>(options_.entries); }
  static std::unique_ptr<Logbook> open(const std::string& path, BenchHost& host, bool create = false) {
    OpenWish wish;
    wish.create = create;
    return must(Logbook::open(path, wish, host));
  }
  static void merge_file(Logbook& book, const std::string& path) {
    const auto source = must(FileSource::open(path));
    must(book.merge({source.get()}));
  }
  void copy(const std::string& from, const std::string& to) const {
    std::filesystem::copy_file(file(from), file(to), std::filesystem::copy_options::overwrite_existing);
  }

  void demo_parcel() {
    if (!wanted("demo")) return;
    const Measured measured = in_a_process([&](Measured& out) {
      BenchHost host;
      must(write_demo(file("demo"), *day_from_text("2026-03-02"), host));
      const auto book = open(file("demo"), host);
      MemorySink sink;
      must(book->write_parcel(sink, nullptr));
      out.said[0] = static_cast<double>(sink.bytes().size());
      out.said[1] = static_cast<double>(book->entry_count());
    });
    print("parcel of the demo, bytes an entry", measured.said[0] / measured.said[1], "B", 40);
  }

  // What is due, by itself and as the rows of the screens.
  void due() {
    if (!wanted("due")) return;
    const DueFigures figures = due_figures(options_.folder.c_str());
    print("due: 20,000 pots of 8 steps, from states", figures.all_ms, "ms", 50);
    print("due: rows after one entry, beside all of them", figures.after_tap_ms, figures.fresh_ms, "ms", 0.25);
  }

  void chance_of_loss() {
    if (!wanted("loss")) return;
    print("exact chance of loss, 12 seasons of 2 kinds of year", 1000 * chance_of_loss_seconds(true), "ms", 10);
    say("chance of loss, 10 seasons, 4 places struck or not", 1000 * chance_of_loss_seconds(false), "ms");
  }

  void yields() {
    if (!wanted("yields")) return;
    print("yields of 200 clones with 2,000 pots", yields_seconds(), "s", 1);
  }

  // Our own work on the largest screen of a book with 20,000 pots.
  void frames() {
    if (!wanted("frames")) return;
    constexpr double most_ms = 4;
    for (const FrameFigure& one : frame_figures(options_.folder, 20'000))
      print(one.what.c_str(), one.ms, "ms", most_ms);
  }

  void make_season() {
    if (season_made_) return;
    season_made_ = true;
    in_a_process([&](Measured&) {
      SeasonWish wish;
      wish.entries = options_.entries;
      wish.left = file("left.parcel");
      wish.right = file("right.parcel");
      wish.hundreds = file("hundred");
      wish.hundred_count = hundred_count;
      write_season(wish);
    });
    say("parcel of the season, bytes an entry",
        static_cast<double>(std::filesystem::file_size(file("right.parcel"))) / entries(), "B");
  }

  // Reading is held against hashing: the chain of hashes over bytes that lie ready.
  void read_parcel() {
    if (!wanted("read")) return;
    make_season();
    const Measured measured = in_a_process([&](Measured& out) {
      Measured reading, hashing;
      for (int round = 0; round < 3; ++round) {
        {
          const auto source = must(FileSource::open(file("right.parcel")));
          Clock clock(reading);
          const auto reader = must(ParcelReader::open(*source));
          Entry entry;
          Hash hash;
          while (must(reader->next_run())) {
            while (must(reader->next_entry(entry, hash))) ++out.said[2];
          }
          clock.stop();
        }
        ByteString bodies;
        std::vector<std::size_t> ends;
        const auto source = must(FileSource::open(file("right.parcel")));
        const auto reader = must(ParcelReader::open(*source));
        Entry entry;
        Hash hash;
        while (must(reader->next_run())) {
          while (must(reader->next_entry(entry, hash))) {
            append_canonical_body(entry, bodies);
            ends.push_back(bodies.size());
          }
        }
        Clock clock(hashing);
        Hash head;
        std::size_t from = 0;
        for (const std::size_t end : ends) {
          head = entry_hash(head, bodies.data() + from, end - from);
          from = end;
        }
        clock.stop();
        out.said[3] += head.bytes[0];
      }
      out.said[0] = reading.cpu;
      out.said[1] = hashing.cpu;
    });
    print("a parcel read and verified / BLAKE2b alone", measured.said[0] / 3, measured.said[1] / 3, "s", 1 / 0.9);
  }

  void make_books() {
    if (!wanted("append") && !wanted("merge") && !wanted("hundred") && !wanted("refold") && !wanted("size")) return;
    make_season();
    const Measured made = in_a_process([&](Measured& out) {
      BenchHost host;
      const auto book = open(file("left"), host, true);
      Clock clock(out);
      merge_file(*book, file("left.parcel"));
      book->rest();
      clock.stop();
    });
    say("merge of all into an empty book", made.cpu, "s");
    print("  its memory", made.peak_mb, "MB", 96);
    print("on disk, with index and folded tables, an entry",
          static_cast<double>(std::filesystem::file_size(file("left"))) / entries(), "B", 250);
    in_a_process([&](Measured&) {
      BenchHost host;
      const auto book = open(file("right"), host, true);
      merge_file(*book, file("right.parcel"));
    });
    in_a_process([&](Measured&) {
      make_bare(file("left"), file("left.bare"), 2);
      make_bare(file("right"), file("right.bare"), 3);
    });
  }

  void appends() {
    if (!wanted("append")) return;
    constexpr int taps = 1500;
    copy("left", "tapped");
    copy("left.bare", "tapped.bare");
    std::vector<double> ours_p50, bare_p50;
    double longest = 0, longest_bare = 0, opening = 0;
    // In turns, so that a busy moment of the machine falls on both.
    for (int turn = 0; turn < 3; ++turn) {
      const Measured ours = in_a_process([&](Measured& out) {
        BenchHost host;
        Measured open_time;
        Clock clock(open_time);
        const auto book = open(file("tapped"), host);
        clock.stop();
        const std::vector<BatchState> batches = book->batches();
        std::vector<double> seconds;
        for (int i = 0; i < taps; ++i) {
          host.advance(5'000);
          Record wish;
          wish.helper = "Runa";
          wish.batch = batches[static_cast<std::size_t>(i) * 7919 % batches.size()].id;
          wish.pot = 7 + i % 6;
          wish.fact = Watered{};
          const auto from = std::chrono::steady_clock::now();
          must(book->run(wish));
          seconds.push_back(std::chrono::duration<double>(std::chrono::steady_clock::now() - from).count());
          if (i % 100 == 99) book->rest();  // as while nobody taps
        }
        out.said[0] = median(seconds);
        out.said[1] = greatest(seconds);
        out.said[2] = open_time.wall;
      });
      ours_p50.push_back(ours.said[0]);
      longest = std::max(longest, ours.said[1]);
      opening = ours.said[2];
      const Measured bare = in_a_process([&](Measured& out) {
        const std::vector<double> seconds = bare_inserts(file("tapped.bare"), taps);
        out.said[0] = median(seconds);
        out.said[1] = greatest(seconds);
      });
      bare_p50.push_back(bare.said[0]);
      longest_bare = std::max(longest_bare, bare.said[1]);
      copy("left.bare", "tapped.bare");
    }
    print("a tap kept, median of the wall clock", median(ours_p50) * 1e3, median(bare_p50) * 1e3, "ms", 1.5);
    print("  longest of all", longest * 1e3, "ms", 50);
    say("  longest bare insert", longest_bare * 1e3, "ms");
    say("  opening the book", opening * 1e3, "ms");
  }

  void merges() {
    if (!wanted("merge")) return;
    copy("left", "merged");
    copy("left.bare", "merged.bare");
    const Measured ours = in_a_process([&](Measured& out) {
      BenchHost host;
      const auto book = open(file("merged"), host);
      Clock clock(out);
      merge_file(*book, file("right.parcel"));
      book->rest();
      clock.stop();
    });
    const Measured bare =
        in_a_process([&](Measured& out) { bare_merge(out, file("merged.bare"), file("right.bare")); });
    print("merge, half in common", ours.cpu, bare.cpu, "s", 1.5);
    print("  its memory", ours.peak_mb, "MB", 96);
    const Measured again = in_a_process([&](Measured& out) {
      BenchHost host;
      const auto book = open(file("merged"), host);
      Clock clock(out);
      merge_file(*book, file("right.parcel"));
      clock.stop();
    });
    print("merge of what is known / the merge before", again.cpu, ours.cpu, "s", 0.05);
  }

  void hundreds() {
    if (!wanted("hundred")) return;
    copy("left", "hundreds");
    const Measured ours = in_a_process([&](Measured& out) {
      BenchHost host;
      const auto book = open(file("hundreds"), host);
      std::vector<double> seconds;
      for (int i = 0; i < hundred_count; ++i) {
        const auto from = std::chrono::steady_clock::now();
        merge_file(*book, file("hundred") + std::to_string(i));
        seconds.push_back(std::chrono::duration<double>(std::chrono::steady_clock::now() - from).count());
        book->rest();
      }
      out.said[0] = median(seconds);
      out.said[1] = greatest(seconds);
    });
    const Measured bare = in_a_process([&](Measured& out) {
      out.said[0] = median(bare_hundreds(file("left.bare"), file("hundred.bare"), hundred_count));
    });
    print("100 new entries, median of the wall clock", ours.said[0] * 1e3, bare.said[0] * 1e3, "ms", 2);
    say("  longest", ours.said[1] * 1e3, "ms");
  }

  void refold() {
    if (!wanted("refold")) return;
    const Measured ours = in_a_process([&](Measured& out) {
      BenchHost host;
      const auto book = open(file("left"), host);
      Clock clock(out);
      const CheckReport report = must(book->check());
      clock.stop();
      if (!report.faults.empty()) stop("check: " + report.faults.front());
    });
    const Measured bare = in_a_process([&](Measured& out) { bare_scan(out, file("left.bare")); });
    print("check: all hashed, refolded and compared / a scan", ours.cpu, bare.cpu, "s", 3);
    say("  its memory", ours.peak_mb, "MB");
  }

  void table() {
    if (!wanted("table")) return;
    in_a_process([&](Measured&) { write_table(file("table.csv"), options_.entries); });
    const Measured ours = in_a_process([&](Measured& out) {
      BenchHost host;
      const auto source = must(FileSource::open(file("table.csv")));
      Clock clock(out);
      const auto book = open(file("imported"), host, true);
      must(import_table(*book, host, *source));
      book->rest();
      clock.stop();
      out.said[0] = static_cast<double>(book->entry_count());
    });
    const Measured bare =
        in_a_process([&](Measured& out) { bare_table(out, file("table.csv"), file("imported.bare")); });
    print("import of a table", ours.cpu, bare.cpu, "s", 1.5);
    say("  its entries", ours.said[0], "");
    say("  its memory", ours.peak_mb, "MB");
  }

  static constexpr int hundred_count = 15;
  Options options_;
  bool season_made_ = false;
};

}  // namespace
}  // namespace motherbulb::bench

int main(int count, char** words) {
  using namespace motherbulb::bench;
  Options options;
  options.folder = (std::filesystem::temp_directory_path() / ("motherbulb-bench-" + std::to_string(getpid()))).string();
  for (int i = 1; i < count; i += 2) {
    const std::string word = words[i];
    if (i + 1 >= count) stop(word + " needs a value: --entries N, --folder FOLDER, --only WORD");
    if (word == "--entries") {
      options.entries = std::strtoull(words[i + 1], nullptr, 10);
    } else if (word == "--folder") {
      options.folder = std::string(words[i + 1]) + "/motherbulb-bench";
    } else if (word == "--only") {
      options.only = words[i + 1];
    } else {
      stop("unknown: " + word + "; it knows --entries N, --folder FOLDER, --only WORD");
    }
  }
  if (options.entries < 1'000) stop("--entries: at least 1000");
  std::printf("%llu entries; processor seconds unless said otherwise\n%-52s %10s %10s\n",
              static_cast<unsigned long long>(options.entries), "", "ours", "bare");
  Bench(options).run();
  std::printf("%d figures over\n", over);
  return over == 0 ? 0 : 1;
}
