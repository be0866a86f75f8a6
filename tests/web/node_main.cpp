// The command line as the page would reckon it: the same sources, compiled for the web, run by node on real files. For
// tests, which compare its figures with the desktop's to the printed digits.
#include <unistd.h>

#include <chrono>
#include <cstdlib>
#include <string>
#include <vector>

#include "app/cli/cli.hpp"
#include "core/host.hpp"
#include "platform/files.hpp"
#include "platform/web/page.hpp"

namespace {

// A device that remembers nothing, in the machine's time zone.
class NodeHost : public motherbulb::Host {
public:
  std::int64_t now_ms() override {
    const auto since = std::chrono::system_clock::now().time_since_epoch();
    return std::chrono::duration_cast<std::chrono::milliseconds>(since).count();
  }
  std::int32_t offset_minutes(std::int64_t utc_ms) override { return motherbulb::page::offset_minutes(utc_ms); }
  void random(std::uint8_t* out, std::size_t count) override {
    for (; count > 0; --count, ++out) {
      if (::getentropy(out, 1) != 0) std::abort();
    }
  }
  std::string store_token(const std::string&) override { return ""; }
  std::uint64_t highest_sequence(const motherbulb::WriterId&) override { return 0; }
  void keep_highest_sequence(const motherbulb::WriterId&, std::uint64_t) override {}
};

}  // namespace

int main(int count, char** words) {
  using namespace motherbulb;
  NodeHost host;
  const cli::Machine machine{host,
                             FileSource::open,
                             FileSink::create,
                             file_exists,
                             looks_like_a_store,
                             remove_new_store,
                             [](const std::string&) { return 2; }};
  return cli::run_command_line(std::vector<std::string>(words + (count > 0 ? 1 : 0), words + count), machine);
}
