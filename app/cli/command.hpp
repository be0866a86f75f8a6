// Every command of the command line, one a file: its wishes as parsed, and what it does with them. Each returns the
// exit code: 0 done; 1 done, and a person must look; 2 bad input, nothing changed; 3 the disk or the store failed.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/cli/machine.hpp"
#include "app/cli/output.hpp"
#include "core/logbook.hpp"

namespace motherbulb::cli {

struct Context {
  const Machine& machine;
  Format format = Format::text;
};

struct DemoWish {
  std::string store, on;
};
int demo(const DemoWish& wish, const Context& context);

struct ImportWish {
  std::string store, file, device;
};
int import(const ImportWish& wish, const Context& context);

struct WithdrawWish {
  std::string store, file, helper;
};
int withdraw(const WithdrawWish& wish, const Context& context);

struct ExportWish {
  std::string store, file;
};
int export_(const ExportWish& wish, const Context& context);

struct ParcelWish {
  std::string store, file, for_whom;
};
int parcel(const ParcelWish& wish, const Context& context);

struct MergeWish {
  std::string store;
  std::vector<std::string> parcels;
};
int merge(const MergeWish& wish, const Context& context);

struct MattersWish {
  std::string store, settle, take, helper;
};
int matters(const MattersWish& wish, const Context& context);

struct PotsWish {
  std::string store, batch;
  bool all = false;
};
int pots(const PotsWish& wish, const Context& context);

struct StockWish {
  std::string store, on;
};
int stock(const StockWish& wish, const Context& context);

struct CheckWish {
  std::string store;
};
int check(const CheckWish& wish, const Context& context);

struct BackupWish {
  std::string store, file;
};
int backup(const BackupWish& wish, const Context& context);

struct RestoreWish {
  std::string file, store;
};
int restore(const RestoreWish& wish, const Context& context);

struct DueWish {
  std::string store, on, weeks;
  bool south = false;
};
int due(const DueWish& wish, const Context& context);

struct TraceWish {
  std::string store, pot;
};
int trace(const TraceWish& wish, const Context& context);

// As written; sensitivity and pool as they are where nobody writes them.
struct SampleWords {
  std::string lot, share, confidence, sensitivity = "1", pool = "1";
};
int sample(const SampleWords& words, const Context& context);

// What is reckoned from: a clone of a store, or a file alone; and where what was reckoned with is written.
struct SourceWords {
  std::string store, clone, model, save_model;
};

// As written; empty: as usual.
struct YieldsWords : SourceWords {
  std::string method, by_season;
};
int yields(const YieldsWords& words, const Context& context);

// As written; empty: as usual.
struct OutlookWords : SourceWords {
  std::string seasons, target, paths, seed, wanted, reserve, sure;
};
int outlook(const OutlookWords& words, const Context& context);

// As written; empty: as usual.
struct PlanWords : SourceWords {
  std::string by_season, target, space, hours, reserve, sure, time_limit;
};
int plan(const PlanWords& words, const Context& context);

// As written; empty: not said.
struct CostWords {
  std::string store, clone, on, hourly, space_price, potting_price, bulb_price, cut_minutes, pot_minutes, unpot_minutes;
};
int cost(const CostWords& words, const Context& context);

// A book opened only to look at.
Result<std::unique_ptr<Logbook>> open_to_look(const std::string& store, const Context& context);
// A store for a command that may make it: what it made is taken away again unless keep() was called.
class OpenedStore {
public:
  OpenedStore(const std::string& store, const std::string& letter, const Context& context);
  ~OpenedStore();
  OpenedStore(const OpenedStore&) = delete;
  OpenedStore& operator=(const OpenedStore&) = delete;
  const Result<std::unique_ptr<Logbook>>& result() const { return book_; }
  Logbook& book() { return **book_; }
  bool existed() const { return existed_; }
  void keep() { keep_ = true; }

private:
  std::string store_;
  const Context& context_;
  bool existed_, keep_ = false;
  Result<std::unique_ptr<Logbook>> book_;
};

}  // namespace motherbulb::cli
