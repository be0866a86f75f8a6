// A main for a fuzz target in a build without libFuzzer: it hands the target its own seeds, and every file named or
// found under a folder named, each once. With --write FOLDER it writes the seeds there instead, for a fuzzer to begin
// with. Prints how many there were.
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <exception>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "tests/fuzz/seeds.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace {

void replay(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  const std::vector<char> bytes{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
  LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size());
}

int write_seeds(const std::filesystem::path& folder) {
  std::filesystem::create_directories(folder);
  std::size_t written = 0;
  for (const auto& seed : motherbulb::fuzz::seeds()) {
    std::ofstream file(folder / ("seed-" + std::to_string(written++)), std::ios::binary);
    file.write(reinterpret_cast<const char*>(seed.data()), static_cast<std::streamsize>(seed.size()));
    if (!file.flush()) return 1;
  }
  std::printf("wrote %zu seeds\n", written);
  return written > 0 ? 0 : 1;
}

}  // namespace

int main(int argc, char** argv) try {
  if (argc == 3 && std::string(argv[1]) == "--write") return write_seeds(argv[2]);
  std::size_t replayed = 0;
  for (const auto& seed : motherbulb::fuzz::seeds()) {
    LLVMFuzzerTestOneInput(seed.data(), seed.size());
    ++replayed;
  }
  for (int i = 1; i < argc; ++i) {
    const std::filesystem::path given = argv[i];
    if (!std::filesystem::exists(given)) continue;  // nothing was found yet
    if (!std::filesystem::is_directory(given)) {
      replay(given);
      ++replayed;
      continue;
    }
    for (const auto& found : std::filesystem::recursive_directory_iterator(given)) {
      if (!found.is_regular_file()) continue;
      replay(found.path());
      ++replayed;
    }
  }
  std::printf("replayed %zu inputs\n", replayed);
  return replayed > 0 ? 0 : 1;
} catch (const std::exception& problem) {
  std::fprintf(stderr, "replay: %s\n", problem.what());
  return 1;
}
