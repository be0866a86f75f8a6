#include "app/cli/text_file.hpp"

namespace motherbulb::cli {

Result<std::string> read_text(const std::string& path, const Machine& machine) {
  constexpr std::uint64_t most_bytes = std::uint64_t{64} << 20;
  const auto source = machine.read(path);
  if (!source) return source.error();
  const std::uint64_t size = (*source)->size();
  if (size > most_bytes) return refusal(path + ": is larger than 64 MB; no such file is as large");
  std::string text(static_cast<std::size_t>(size), '\0');
  const auto read = (*source)->read(0, reinterpret_cast<std::uint8_t*>(text.data()), text.size());
  if (!read) return read.error();
  return text;
}

Outcome write_text(const std::string& path, std::string_view text, const Machine& machine) {
  const auto sink = machine.write(path);
  if (!sink) return sink.error();
  const auto written = (*sink)->write(reinterpret_cast<const std::uint8_t*>(text.data()), text.size());
  if (!written) return written.error();
  return (*sink)->commit();
}

}  // namespace motherbulb::cli
