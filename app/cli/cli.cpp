#include "app/cli/cli.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <array>

#include "app/cli/command.hpp"
#include "core/names.hpp"

namespace motherbulb::cli {
namespace {

struct CommandText {
  std::string_view name, use, what;
};

constexpr auto commands = std::to_array<CommandText>({
    {"demo", "demo STORE [--on DATE]", "write an invented glasshouse's four seasons into a new store"},
    {"import", "import STORE FILE.csv [--device LETTER]",
     "take in a table: all of its rows, or none and every fault named"},
    {"withdraw", "withdraw STORE FILE.csv [--helper NAME]", "take back the facts of a table, whoever imported it"},
    {"export", "export STORE FILE.csv", "write every fact that stands into a table"},
    {"parcel", "parcel STORE FILE [--for STORE-OR-PARCEL]", "pack entries for another device: all, or what it lacks"},
    {"merge", "merge STORE PARCEL...", "take in the parcels of other devices: all of them or none"},
    {"matters", "matters STORE [--settle ID --take proposal|first|second|both] [--helper NAME]",
     "what a person must settle; settle one"},
    {"stock", "stock STORE [--on DATE]", "bulbs by clone and size, and how they balance"},
    {"pots", "pots STORE [--batch LABEL] [--all]", "each pot: stage, contents, last look, pests and damage"},
    {"due", "due STORE [--on DATE] [--weeks N] [--south]",
     "what is due, why, and when the window closes; --format ics for a calendar, html for a week's work on paper"},
    {"trace", "trace STORE POT", "from a bad pot to all that it may have touched, the likeliest first"},
    {"sample", "sample --lot N --share P --confidence C [--sensitivity S] [--pool K]",
     "how many bulbs to test so that an infection would be found"},
    {"yields", "yields (STORE [--clone NAME] [--method METHOD] [--by-season N] | --model FILE) [--save-model FILE]",
     "what cuts gave, pot by pot counted, and what the next mother will give"},
    {"outlook",
     "outlook (STORE --clone NAME | --model FILE) [--seasons N] [--target N] [--paths N] [--seed N] [--wanted N "
     "[--reserve N] [--sure P]] [--save-model FILE]",
     "what becomes of a clone: how many stand, how surely, and how likely it is lost"},
    {"plan",
     "plan (STORE [--clone NAME] | --model FILE) [--by-season N | --target N] [--space N] [--hours N] [--reserve N] "
     "[--sure P] [--save-model FILE] [--time-limit SECONDS]",
     "what to cut, what to grow on, what to sell"},
    {"cost",
     "cost STORE [--clone NAME] [--on DATE] [--hourly MONEY] [--space-price MONEY] [--potting-price MONEY] "
     "[--bulb-price MONEY] [--cut-minutes N] [--pot-minutes N] [--unpot-minutes N]",
     "what each bulb has cost by now, what was lost included"},
    {"check", "check STORE", "reckon everything anew and compare"},
    {"backup", "backup STORE FILE", "a verified copy of the book"},
    {"restore", "restore FILE STORE", "a new store from a backup"},
});

constexpr auto later = std::to_array<std::string_view>({"labels", "report"});

std::string help() {
  std::string text =
      "Motherbulb: the record book of a grower who multiplies bulbs.\n\n  motherbulb [STORE]\n      open the window\n";
  for (const CommandText& command : commands) {
    text += "  motherbulb " + std::string(command.use) + "\n      " + std::string(command.what) + "\n";
  }
  text +=
      "\nEach takes --format json for scripts; due, stock, pots and matters take --format csv too.\n"
      "Exit code: 0 done; 1 done, and a person must look; 2 bad input; 3 the disk or the store failed.\n"
      "Not built yet:";
  for (const std::string_view name : later) text += " " + std::string(name);
  return text + ".\n";
}

const CommandText* command_named(const std::string& word) {
  const auto found = std::find_if(commands.begin(), commands.end(),
                                  [&word](const CommandText& command) { return command.name == word; });
  return found == commands.end() ? nullptr : &*found;
}

bool is_later(const std::string& word) {
  return std::find(later.begin(), later.end(), word) != later.end();
}

std::string near_command(const std::string& word) {
  for (const CommandText& command : commands) {
    if (differ_by_a_letter(command.name, word)) return std::string(command.name);
  }
  return "";
}

int neither(const std::string& word) {
  const std::string near = near_command(word);
  std::string what = "\"" + on_one_line(word) + "\" is neither a command nor a store";
  what += near.empty() ? "; motherbulb --help lists the commands" : "; is " + near + " meant?";
  return fail_usage(what);
}

// One command's words, read by CLI11 and faults told in our own.
class Words {
public:
  explicit Words(const CommandText& command) : command_(command) {
    app_.set_help_flag();
    app_.option_defaults()->always_capture_default(false);
    app_.add_option("--format", format_);
    app_.add_flag("-h,--help", help_);
  }
  Words& positional(const char* name, std::string& into) {
    app_.add_option(name, into);
    needed_.push_back({name, &into});
    return *this;
  }
  Words& option(const char* name, std::string& into) {
    app_.add_option(name, into);
    return *this;
  }
  Words& needed_option(const char* name, std::string& into) {
    needed_.push_back({name, &into});
    return option(name, into);
  }
  Words& source(SourceWords& into) {
    app_.add_option("STORE", into.store);
    return option("--clone", into.clone).option("--model", into.model).option("--save-model", into.save_model);
  }
  CLI::App& app() { return app_; }

  // The exit code where there is nothing to run.
  std::optional<int> read(const std::vector<std::string>& words, Format& format) {
    std::vector<std::string> reversed(words.rbegin(), words.rend());  // as CLI11 wants them
    try {
      app_.parse(reversed);
    } catch (const CLI::ExtrasError&) {
      if (help_) return told();
      const auto extra = app_.remaining();
      return fault(extra.empty() ? "there is a word too many"
                                 : "it does not know what to do with \"" + on_one_line(extra.front()) + "\"");
    } catch (const CLI::ArgumentMismatch& error) {
      return fault(missing_value(error.what()));
    } catch (const CLI::ParseError& error) {
      return fault(error.what());
    }
    if (help_) return told();
    for (const auto& [name, into] : needed_) {
      if (into->empty()) return fault(std::string(name) + " is missing");
    }
    if (format_ == "json") {
      format = Format::json;
    } else if (format_ == "csv") {
      format = Format::csv;
    } else if (command_.name == "due" && format_ == "ics") {
      format = Format::ics;
    } else if (command_.name == "due" && format_ == "html") {
      format = Format::html;
    } else if (format_ != "text") {
      return fault("--format takes text, json or csv, not \"" + on_one_line(format_) + "\"");
    }
    const bool lists =
        command_.name == "due" || command_.name == "stock" || command_.name == "pots" || command_.name == "matters";
    if (format == Format::csv && !lists) return fault("its answer is no list; --format takes text or json here");
    return std::nullopt;
  }
  // After `read`: the exit code where it is not clear what to reckon from.
  std::optional<int> fault_of(const SourceWords& source) const {
    if (source.store.empty() == source.model.empty()) return fault("it takes either a STORE or --model FILE");
    if (source.store.empty() && !source.clone.empty()) return fault("--clone goes with a STORE");
    return std::nullopt;
  }
  int fault(const std::string& what) const {
    return fail_usage("motherbulb " + std::string(command_.name) + ": " + what + ". Write: motherbulb " +
                      std::string(command_.use));
  }

private:
  int told() const {
    return say("motherbulb " + std::string(command_.use) + " [--format text|json|csv]\n    " +
               std::string(command_.what) + "\n");
  }
  static std::string missing_value(const std::string& theirs) {
    const std::size_t end = theirs.find_first_of(": ");
    return theirs.substr(0, end) + " needs one value behind it";
  }

  const CommandText& command_;
  CLI::App app_;
  std::string format_ = "text";
  bool help_ = false;
  std::vector<std::pair<const char*, const std::string*>> needed_;
};

int run_command(const CommandText& command, const std::vector<std::string>& words, const Machine& machine) {
  Words reader(command);
  Context context{machine, Format::text};
  if (command.name == "demo") {
    DemoWish wish;
    reader.positional("STORE", wish.store).option("--on", wish.on);
    if (const auto code = reader.read(words, context.format)) return *code;
    return demo(wish, context);
  }
  if (command.name == "import") {
    ImportWish wish;
    reader.positional("STORE", wish.store).positional("FILE.csv", wish.file).option("--device", wish.device);
    if (const auto code = reader.read(words, context.format)) return *code;
    return import(wish, context);
  }
  if (command.name == "withdraw") {
    WithdrawWish wish;
    reader.positional("STORE", wish.store).positional("FILE.csv", wish.file).option("--helper", wish.helper);
    if (const auto code = reader.read(words, context.format)) return *code;
    return withdraw(wish, context);
  }
  if (command.name == "export") {
    ExportWish wish;
    reader.positional("STORE", wish.store).positional("FILE.csv", wish.file);
    if (const auto code = reader.read(words, context.format)) return *code;
    return export_(wish, context);
  }
  if (command.name == "parcel") {
    ParcelWish wish;
    reader.positional("STORE", wish.store).positional("FILE", wish.file).option("--for", wish.for_whom);
    if (const auto code = reader.read(words, context.format)) return *code;
    return parcel(wish, context);
  }
  if (command.name == "merge") {
    MergeWish wish;
    reader.positional("STORE", wish.store);
    reader.app().add_option("PARCEL", wish.parcels);
    if (const auto code = reader.read(words, context.format)) return *code;
    if (wish.parcels.empty()) return reader.fault("PARCEL is missing");
    return merge(wish, context);
  }
  if (command.name == "matters") {
    MattersWish wish;
    reader.positional("STORE", wish.store)
        .option("--settle", wish.settle)
        .option("--take", wish.take)
        .option("--helper", wish.helper);
    if (const auto code = reader.read(words, context.format)) return *code;
    if (!wish.take.empty() && wish.take != "proposal" && wish.take != "first" && wish.take != "second" &&
        wish.take != "both") {
      return reader.fault("--take takes proposal, first, second or both, not \"" + on_one_line(wish.take) + "\"");
    }
    if (wish.settle.empty() != wish.take.empty()) return reader.fault("--settle and --take go together");
    return matters(wish, context);
  }
  if (command.name == "stock") {
    StockWish wish;
    reader.positional("STORE", wish.store).option("--on", wish.on);
    if (const auto code = reader.read(words, context.format)) return *code;
    return stock(wish, context);
  }
  if (command.name == "pots") {
    PotsWish wish;
    reader.positional("STORE", wish.store).option("--batch", wish.batch);
    reader.app().add_flag("--all", wish.all);
    if (const auto code = reader.read(words, context.format)) return *code;
    return pots(wish, context);
  }
  if (command.name == "due") {
    DueWish wish;
    reader.positional("STORE", wish.store).option("--on", wish.on).option("--weeks", wish.weeks);
    reader.app().add_flag("--south", wish.south);
    if (const auto code = reader.read(words, context.format)) return *code;
    return due(wish, context);
  }
  if (command.name == "trace") {
    TraceWish wish;
    reader.positional("STORE", wish.store).positional("POT", wish.pot);
    if (const auto code = reader.read(words, context.format)) return *code;
    return trace(wish, context);
  }
  if (command.name == "sample") {
    SampleWords wish;
    reader.needed_option("--lot", wish.lot)
        .needed_option("--share", wish.share)
        .needed_option("--confidence", wish.confidence)
        .option("--sensitivity", wish.sensitivity)
        .option("--pool", wish.pool);
    if (const auto code = reader.read(words, context.format)) return *code;
    return sample(wish, context);
  }
  if (command.name == "yields") {
    YieldsWords wish;
    reader.source(wish).option("--method", wish.method).option("--by-season", wish.by_season);
    if (const auto code = reader.read(words, context.format)) return *code;
    if (const auto code = reader.fault_of(wish)) return *code;
    if (wish.store.empty() && !wish.method.empty()) return reader.fault("--method goes with a STORE");
    if (wish.store.empty() && !wish.by_season.empty()) return reader.fault("--by-season goes with a STORE");
    return yields(wish, context);
  }
  if (command.name == "outlook") {
    OutlookWords wish;
    reader.source(wish)
        .option("--seasons", wish.seasons)
        .option("--target", wish.target)
        .option("--paths", wish.paths)
        .option("--seed", wish.seed)
        .option("--wanted", wish.wanted)
        .option("--reserve", wish.reserve)
        .option("--sure", wish.sure);
    if (const auto code = reader.read(words, context.format)) return *code;
    if (const auto code = reader.fault_of(wish)) return *code;
    if (!wish.store.empty() && wish.clone.empty()) return reader.fault("--clone is missing");
    if (wish.wanted.empty() && !(wish.reserve.empty() && wish.sure.empty())) {
      return reader.fault("--reserve and --sure go with --wanted");
    }
    return outlook(wish, context);
  }
  if (command.name == "plan") {
    PlanWords wish;
    reader.source(wish)
        .option("--by-season", wish.by_season)
        .option("--target", wish.target)
        .option("--space", wish.space)
        .option("--hours", wish.hours)
        .option("--reserve", wish.reserve)
        .option("--sure", wish.sure)
        .option("--time-limit", wish.time_limit);
    if (const auto code = reader.read(words, context.format)) return *code;
    if (const auto code = reader.fault_of(wish)) return *code;
    if (!wish.by_season.empty() && !wish.target.empty()) {
      return reader.fault("--by-season and --target are two goals; write one of them");
    }
    return plan(wish, context);
  }
  if (command.name == "cost") {
    CostWords wish;
    reader.positional("STORE", wish.store)
        .option("--clone", wish.clone)
        .option("--on", wish.on)
        .option("--hourly", wish.hourly)
        .option("--space-price", wish.space_price)
        .option("--potting-price", wish.potting_price)
        .option("--bulb-price", wish.bulb_price)
        .option("--cut-minutes", wish.cut_minutes)
        .option("--pot-minutes", wish.pot_minutes)
        .option("--unpot-minutes", wish.unpot_minutes);
    if (const auto code = reader.read(words, context.format)) return *code;
    return cost(wish, context);
  }
  if (command.name == "check") {
    CheckWish wish;
    reader.positional("STORE", wish.store);
    if (const auto code = reader.read(words, context.format)) return *code;
    return check(wish, context);
  }
  if (command.name == "backup") {
    BackupWish wish;
    reader.positional("STORE", wish.store).positional("FILE", wish.file);
    if (const auto code = reader.read(words, context.format)) return *code;
    return backup(wish, context);
  }
  RestoreWish wish;
  reader.positional("FILE", wish.file).positional("STORE", wish.store);
  if (const auto code = reader.read(words, context.format)) return *code;
  return restore(wish, context);
}

}  // namespace

int run_command_line(const std::vector<std::string>& words, const Machine& machine) {
  if (words.empty()) return machine.open_window("");
  const std::string& first = words.front();
  if (first == "--help" || first == "-h" || first == "help") return say(help());
  if (is_later(first)) return fail_usage("motherbulb " + first + " is not built yet.");
  if (const CommandText* command = command_named(first)) {
    return run_command(*command, {words.begin() + 1, words.end()}, machine);
  }
  if (words.size() > 1 || first.empty() || first[0] == '-' || !machine.exists(first)) return neither(first);
  return machine.open_window(first);
}

}  // namespace motherbulb::cli
