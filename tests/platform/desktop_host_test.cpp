#include "platform/desktop_host.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <fstream>

#include "shared/day.hpp"
#include "tests/make.hpp"

using namespace motherbulb;

TEST_CASE("the clock is that of the machine, in milliseconds") {
  DesktopHost host("");
  const std::int64_t before = static_cast<std::int64_t>(std::time(nullptr)) * 1000;
  const std::int64_t now = host.now_ms();
  CHECK(now >= before);
  CHECK(now < before + 60'000);
}

// Pacific/Chatham is 12:45 ahead of UTC in its winter and 13:45 in its summer (IANA time zone database). The tests run
// in that zone (tests/tests.cmake); elsewhere there is nothing to compare with.
TEST_CASE("the offset is that of the zone at that moment, not now") {
  const char* zone = std::getenv("TZ");
  if (zone == nullptr || std::string(zone) != "Pacific/Chatham") return;
  DesktopHost host("");
  CHECK(host.offset_minutes(day_from_text("2026-07-01")->days * std::int64_t{86'400'000}) == 12 * 60 + 45);
  CHECK(host.offset_minutes(day_from_text("2026-01-01")->days * std::int64_t{86'400'000}) == 13 * 60 + 45);
}

TEST_CASE("random bits differ") {
  DesktopHost host("");
  std::array<std::uint8_t, 16> a{}, b{};
  host.random(a.data(), a.size());
  host.random(b.data(), b.size());
  CHECK(a != b);
}

TEST_CASE("a copied store has another token, the same one the same") {
  make::Folder folder;
  DesktopHost host("");
  const std::string path = folder.file("a.book");
  std::ofstream(path) << "x";
  const std::string token = host.store_token(path);
  CHECK(token.size() == 32);
  CHECK(host.store_token(path) == token);
  std::ofstream(path, std::ios::app) << "more";
  CHECK(host.store_token(path) == token);
  std::filesystem::rename(path, folder.file("renamed.book"));
  CHECK(host.store_token(folder.file("renamed.book")) == token);
  std::filesystem::copy_file(folder.file("renamed.book"), path);
  CHECK(host.store_token(path) != token);
  CHECK(host.store_token(folder.file("none")) == "");
}

TEST_CASE("the highest sequence of each writer is remembered, only upwards, also by another run") {
  make::Folder folder;
  const std::string state = folder.file("deep/state");
  {
    DesktopHost host(state);
    CHECK(host.highest_sequence(make::writer(1)) == 0);
    for (std::uint64_t n = 1; n <= 40; ++n) host.keep_highest_sequence(make::writer(n), n);
    host.keep_highest_sequence(make::writer(7), 1'000'000'000'000);
    host.keep_highest_sequence(make::writer(7), 5);
  }
  DesktopHost host(state);
  CHECK(host.highest_sequence(make::writer(7)) == 1'000'000'000'000);
  CHECK(host.highest_sequence(make::writer(40)) == 40);
  CHECK(host.highest_sequence(make::writer(41)) == 0);
}

TEST_CASE("without a place to remember in, nothing is remembered and nothing fails") {
  DesktopHost nowhere("");
  nowhere.keep_highest_sequence(make::writer(1), 5);
  CHECK(nowhere.highest_sequence(make::writer(1)) == 0);
  DesktopHost closed("/proc/no/such/folder");
  closed.keep_highest_sequence(make::writer(1), 5);
  CHECK(closed.highest_sequence(make::writer(1)) == 0);
}
