// A main for a fuzz target in a build without libFuzzer: it hands every file named, or found under a folder named, to
// the target once. Prints how many there were, and fails when there were none, so that a lost corpus shows.
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <exception>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <vector>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace {

void replay(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  const std::vector<char> bytes{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
  LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size());
}

}  // namespace

int main(int argc, char** argv) try {
  std::size_t replayed = 0;
  for (int i = 1; i < argc; ++i) {
    const std::filesystem::path given = argv[i];
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
  std::printf("replayed %zu files\n", replayed);
  return replayed > 0 ? 0 : 1;
} catch (const std::exception& problem) {
  std::fprintf(stderr, "replay: %s\n", problem.what());
  return 1;
}
