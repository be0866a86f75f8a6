#include "platform/web/page_files.hpp"

#include <sys/stat.h>

#include <algorithm>
#include <filesystem>
#include <system_error>
#include <utility>

#include "platform/files.hpp"
#include "platform/web/page.hpp"

namespace motherbulb {

namespace fs = std::filesystem;

void PageFiles::set_up() {
  ::umask(022);  // here it begins as one that hides every file from everybody
  std::error_code ignored;
  for (const char* folder : {taken_in, saved, shared}) fs::create_directories(folder, ignored);
}

std::vector<FoundFile> PageFiles::parcels_near(const std::string&) {
  std::vector<FoundFile> found;
  std::error_code fault;
  for (fs::directory_iterator entry(taken_in, fault); !fault && entry != fs::directory_iterator();
       entry.increment(fault)) {
    if (auto file = find_file(entry->path().string())) found.push_back(std::move(*file));
  }
  std::sort(found.begin(), found.end(), [](const FoundFile& a, const FoundFile& b) { return a.path < b.path; });
  return found;
}

Result<FoundFile> PageFiles::look_at(const std::string& path) {
  if (auto file = find_file(path)) return std::move(*file);
  return Error{ErrorKind::missing, path + " is not there any more; choose it again", {}};
}

Result<std::unique_ptr<ByteSource>> PageFiles::open(const std::string& path) {
  return FileSource::open(path);
}

std::vector<FoundPlace> PageFiles::places_to_write(const std::string&) {
  std::vector<FoundPlace> places{{saved, "", false}};
  if (page::can_share()) places.push_back({shared, "", true});
  return places;
}

bool PageFiles::is_there(const std::string& path) {
  return file_exists(path);
}

Result<std::unique_ptr<ByteSink>> PageFiles::write(const std::string& path) {
  return FileSink::create(path);
}

Result<std::string> PageFiles::take_in(const std::string& name, const std::vector<std::uint8_t>& bytes) {
  std::string path = std::string(taken_in) + "/" + name;
  for (int nth = 2; file_exists(path); ++nth) path = std::string(taken_in) + "/" + std::to_string(nth) + "-" + name;
  auto sink = FileSink::create(path);
  if (!sink) return sink.error();
  if (Outcome written = (*sink)->write(bytes.data(), bytes.size()); !written) return written.error();
  if (Outcome written = (*sink)->commit(); !written) return written.error();
  return path;
}

void PageFiles::hand_over(const std::string& path) {
  page::hand_over(path, path.rfind(std::string(shared) + "/", 0) == 0);
}

void PageFiles::move_in(const std::string& path) {
  std::error_code ignored;
  fs::rename(path, fs::path(taken_in) / fs::path(path).filename(), ignored);
}

}  // namespace motherbulb
