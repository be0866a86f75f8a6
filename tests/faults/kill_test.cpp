// The program killed while tapping (R4), for real: a child process taps into a store on a real disk and tells each
// acknowledged sequence through a pipe; at a random moment it is killed. Every tap it told of is in the book.
#include <doctest/doctest.h>
#include <poll.h>
#include <sys/types.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <csignal>
#include <map>
#include <memory>
#include <string>
#include <thread>

#include "tests/form.hpp"
#include "tests/make.hpp"
#include "tests/picture.hpp"

namespace motherbulb {
namespace {

struct Told {
  EntryId id;
  std::int64_t number = 0;  // that the tap wrote down
};

// Never returns.
[[noreturn]] void tap_until_killed(const std::string& path, FakeHost host, int pipe, std::int64_t number) {
  auto opened = Logbook::open(path, OpenWish{}, host);
  if (!opened) _exit(3);
  const BatchId batch = (*opened)->batches().front().id;
  for (;; ++number) {
    host.advance(1'000);
    const auto kept = (*opened)->run(make::record(batch, 1, make::looked(number % 100'000)));
    if (!kept || !kept->kept) _exit(4);
    const Told told{kept->id, number % 100'000};
    if (write(pipe, &told, sizeof told) != static_cast<ssize_t>(sizeof told)) _exit(5);
    if (number % 64 == 0) (*opened)->rest();
  }
}

// A slow machine takes longer to open the book than a kill at any moment waits.
void wait_for_the_first_tap(int pipe) {
  constexpr int patience_ms = 60'000;
  pollfd until{.fd = pipe, .events = POLLIN, .revents = 0};
  REQUIRE_MESSAGE(poll(&until, 1, patience_ms) == 1, "no tap was acknowledged within a minute");
}

TEST_CASE("a program killed while tapping loses nothing that it acknowledged") {
  const make::Folder folder;
  const std::string path = folder.file("killed.book");
  FakeHost host(11);
  std::map<EntryId, std::int64_t> acknowledged;
  {
    const auto book = make::new_book(path, host);
    const BatchId batch = make::begin_batch(*book, "Tirna Red", 1, 8);
    make::tap(*book, batch, 1, make::pieces_potted(8));
  }
  const std::uint64_t seed = make::seed();
  Chance chance(seed);
  const int kills = make::short_or_long(50, 2'000);
  std::size_t most = 0;
  for (int i = 0; i < kills; ++i) {
    INFO("MOTHERBULB_SEED=" << seed << ", kill " << i);
    int ends[2];
    REQUIRE(pipe(ends) == 0);
    host.advance_days(1);
    const pid_t child = fork();
    REQUIRE(child >= 0);
    if (child == 0) {
      close(ends[0]);
      tap_until_killed(path, host, ends[1], chance.between(0, 90'000));
    }
    close(ends[1]);
    // Every other kill may come at any moment, while the book is opened too; the others while taps are kept.
    if (i % 2 == 1) wait_for_the_first_tap(ends[0]);
    std::this_thread::sleep_for(std::chrono::microseconds(chance.between(200, 40'000)));
    kill(child, SIGKILL);
    int status = 0;
    waitpid(child, &status, 0);
    REQUIRE_MESSAGE(WIFSIGNALED(status), "the child ended by itself: " << WEXITSTATUS(status));
    Told told;
    std::size_t in_this_life = 0;
    while (read(ends[0], &told, sizeof told) == static_cast<ssize_t>(sizeof told)) {
      REQUIRE(acknowledged.emplace(told.id, told.number).second);
      ++in_this_life;
    }
    close(ends[0]);
    most = std::max(most, in_this_life);

    const auto book = make::open_book(path, host);
    const auto entries = make::entries_in(*book);
    for (const auto& tap : acknowledged) {
      REQUIRE_MESSAGE(entries.count(tap.first) == 1, "tap " << tap.second << " is lost");
    }
    // At most the one tap that was under way when the kill came stands beyond what was told, each time.
    REQUIRE(entries.size() <= 2 + acknowledged.size() + static_cast<std::size_t>(i) + 1);
    if (i % 10 == 9) {
      const CheckReport report = make::must(book->check());
      REQUIRE_MESSAGE(report.faults.empty(), report.faults.front());
      REQUIRE(report.folded_equal);
    }
  }
  MESSAGE(kills << " kills from seed " << seed << ", " << acknowledged.size() << " taps acknowledged, at most " << most
                << " in one life");
  CHECK(acknowledged.size() >= static_cast<std::size_t>(kills / 2));
}

}  // namespace
}  // namespace motherbulb
