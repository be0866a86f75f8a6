#include "app/cli/command.hpp"

namespace motherbulb::cli {
namespace {

// A parcel that is not whole is bad input; a store that is not is a fault of the disk.
bool is_sound(ByteSource& source) {
  const auto opened = ParcelReader::open(source);
  if (!opened) return false;
  Entry entry;
  Hash hash;
  for (;;) {
    const auto run = (*opened)->next_run();
    if (!run) return false;
    if (!*run) return true;
    for (;;) {
      const auto any = (*opened)->next_entry(entry, hash);
      if (!any) return false;
      if (!*any) break;
    }
  }
}

}  // namespace

int merge(const MergeWish& wish, const Context& context) {
  std::vector<std::unique_ptr<ByteSource>> sources;
  std::vector<ByteSource*> parcels;
  for (const std::string& path : wish.parcels) {
    auto source = context.machine.read(path);
    if (!source) return fail(source.error());
    parcels.push_back(source->get());
    sources.push_back(std::move(*source));
  }
  OpenedStore opened(wish.store, "", context);
  if (!opened.result()) return fail(opened.result().error());
  const auto report = opened.book().merge(parcels);
  if (!report) {
    Error error = report.error();
    if (error.kind == ErrorKind::damaged) {
      for (ByteSource* source : parcels) {
        if (!is_sound(*source)) error.kind = ErrorKind::refused;
      }
    }
    return fail(error);
  }
  opened.keep();
  const int code = report->matters > 0 || report->parked > 0 ? 1 : 0;
  if (context.format == Format::json) {
    return say_json(Json{{"new", report->new_entries},
                         {"known", report->known},
                         {"parked", report->parked},
                         {"matters", report->matters},
                         {"digest", report->digest}},
                    code);
  }
  std::string text = counted(report->new_entries, "entry is", "entries are") + " new, " +
                     counted(report->known, "was", "were") + " known already.\n";
  if (report->parked > 0) {
    text += counted(report->parked, "entry waits", "entries wait") +
            " for another that lies between and is not here yet; merge the parcel that has it.\n";
  }
  if (report->matters > 0) {
    text += counted(report->matters, "matter is", "matters are") + " for you to settle: motherbulb matters " +
            wish.store + "\n";
  }
  return say(text + "The book's digest is " + report->digest + "; books that show the same hold the same.\n", code);
}

}  // namespace motherbulb::cli
