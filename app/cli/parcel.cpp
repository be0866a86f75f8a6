#include "shared/parcel.hpp"

#include "app/cli/command.hpp"

namespace motherbulb::cli {
namespace {

// What a store has, or what the book had that a parcel came from.
Result<std::vector<Known>> known_by(const std::string& path, const Context& context) {
  if (context.machine.looks_like_a_store(path)) {
    auto book = open_to_look(path, context);
    if (!book) return book.error();
    return (*book)->vector();
  }
  auto source = context.machine.read(path);
  if (!source) return source.error();
  const auto reader = ParcelReader::open(**source);
  if (!reader) {
    Error error = reader.error();
    if (error.kind == ErrorKind::damaged) error.kind = ErrorKind::refused;
    error.further.push_back(
        "--for takes a store or a parcel: the book that the new parcel is for, or one that it sent");
    return error;
  }
  return (*reader)->vector();
}

}  // namespace

int parcel(const ParcelWish& wish, const Context& context) {
  auto book = open_to_look(wish.store, context);
  if (!book) return fail(book.error());
  std::optional<std::vector<Known>> known;
  if (!wish.for_whom.empty()) {
    auto there = known_by(wish.for_whom, context);
    if (!there) return fail(there.error());
    known = std::move(*there);
  }
  auto sink = context.machine.write(wish.file);
  if (!sink) return fail(sink.error());
  auto outcome = (*book)->write_parcel(**sink, known ? &*known : nullptr);
  if (!outcome) return fail(outcome.error());
  outcome = (*sink)->commit();
  if (!outcome) return fail(outcome.error());
  (*sink).reset();

  auto written = context.machine.read(wish.file);
  if (!written) return fail(written.error());
  const auto reader = ParcelReader::open(**written);
  if (!reader) return fail(reader.error());
  const auto entries = (*reader)->entries();
  if (context.format == Format::json) return say_json(Json{{"entries", entries}, {"digest", (*book)->digest()}});
  return say(counted(static_cast<std::int64_t>(entries), "entry", "entries") + " packed into " + wish.file + ".\n");
}

}  // namespace motherbulb::cli
