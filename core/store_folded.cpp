// The store's folded tables, its faults and its copies.
#include <sodium.h>
#include <sys/stat.h>

#include <algorithm>
#include <cstring>
#include <set>

#include "core/host.hpp"
#include "core/state_codec.hpp"
#include "core/store.hpp"
#include "core/store_sqlite.hpp"

namespace motherbulb {

std::optional<BatchState> Store::batch(StoryNo story) {
  Query query = database_->query("SELECT state FROM batch WHERE story=?");
  query.bind(story);
  BatchState state;
  if (!query.step() || !decode_state(query.view(0), state)) return std::nullopt;
  return state;
}

std::optional<PotState> Store::pot(StoryNo story, std::int32_t number) {
  Query query = database_->query("SELECT state FROM pot WHERE story=? AND number=?");
  query.bind(story).bind(number);
  PotState state;
  if (!query.step() || !decode_state(query.view(0), state)) return std::nullopt;
  return state;
}

std::vector<PotState> Store::pots(StoryNo story, bool with_emptied) {
  std::vector<PotState> all;
  Query query = database_->query("SELECT state FROM pot WHERE story=? AND emptied<=? ORDER BY number");
  query.bind(story).bind(with_emptied ? 1 : 0);
  while (query.step()) {
    PotState state;
    if (decode_state(query.view(0), state)) all.push_back(std::move(state));
  }
  return all;
}

void Store::each_batch(const std::function<void(StoryNo, BatchState&&)>& visit) {
  Query query = database_->query("SELECT story, state FROM batch ORDER BY story");
  while (query.step()) {
    BatchState state;
    if (decode_state(query.view(1), state)) visit(query.number(0), std::move(state));
  }
}

namespace {

std::vector<StoryNo> numbers(Query query) {
  std::vector<StoryNo> all;
  while (query.step()) all.push_back(query.number(0));
  return all;
}

}  // namespace

std::vector<StoryNo> Store::batches_by_label(const std::string& label) {
  Query query = database_->query("SELECT story FROM batch WHERE label=? ORDER BY story");
  query.bind(label);
  return numbers(std::move(query));
}

std::vector<StoryNo> Store::batches_by_mark(const std::string& mark) {
  if (mark.empty()) return {};
  Query query = database_->query("SELECT story FROM batch WHERE mark<>'' AND mark=? ORDER BY story");
  query.bind(mark);
  return numbers(std::move(query));
}

std::vector<StoryNo> Store::folded_stories() {
  return numbers(
      database_->query("SELECT story FROM batch UNION SELECT story FROM pot UNION SELECT source FROM link "
                       "UNION SELECT story FROM matter"));
}

// Labels look like 26B014-X: the number stands between letter and hyphen, and grows past three digits.
std::int64_t Store::highest_label_number(const std::string& year_and_letter) {
  Query query = database_->query(
      "SELECT max(CAST(substr(label, 4, length(label)-5) AS INTEGER)) FROM batch WHERE label>=?1 AND label<?2");
  query.bind(year_and_letter).bind(year_and_letter + ":");  // ':' follows '9'
  return query.step() ? query.number(0) : 0;
}

std::vector<std::string> Store::label_letters() {
  std::vector<std::string> all;
  Query query = database_->query(
      "SELECT DISTINCT substr(label,3,1) FROM batch WHERE label<>'' "
      "UNION SELECT letter FROM device");
  while (query.step()) all.push_back(query.text(0));
  return all;
}

std::vector<std::string> Store::labels_twice() {
  std::vector<std::string> all;
  Query query =
      database_->query("SELECT label FROM batch WHERE label<>'' GROUP BY label HAVING count(*)>1 ORDER BY label");
  while (query.step()) all.push_back(query.text(0));
  return all;
}

namespace {

std::vector<Link> links(Query query) {
  std::vector<Link> all;
  while (query.step()) {
    Link link;
    if (decode_state(query.view(0), link)) all.push_back(std::move(link));
  }
  return all;
}

std::vector<Matter> matters_in(Query query) {
  std::vector<Matter> all;
  while (query.step()) {
    Matter matter;
    if (decode_state(query.view(0), matter)) all.push_back(std::move(matter));
  }
  return all;
}

}  // namespace

std::vector<Link> Store::links_to(StoryNo story) {
  Query query = database_->query("SELECT content FROM link WHERE target=? ORDER BY source, fact");
  query.bind(story);
  return links(std::move(query));
}

std::vector<Link> Store::links_from(StoryNo story) {
  Query query = database_->query("SELECT content FROM link WHERE source=? ORDER BY fact");
  query.bind(story);
  return links(std::move(query));
}

std::vector<Matter> Store::matters() {
  return matters_in(database_->query("SELECT content FROM matter ORDER BY id"));
}

std::set<std::uint64_t> Store::matter_ids() {
  std::set<std::uint64_t> ids;
  Query query = database_->query("SELECT id FROM matter");
  while (query.step()) ids.insert(static_cast<std::uint64_t>(query.number(0)));
  return ids;
}

std::vector<Matter> Store::matters(StoryNo story) {
  Query query = database_->query("SELECT content FROM matter WHERE story=? ORDER BY id");
  query.bind(story);
  return matters_in(std::move(query));
}

void Store::put_links(StoryNo from, const std::vector<Link>& links_out) {
  database_->query("DELETE FROM link WHERE source=?").bind(from).run();
  for (const Link& link : links_out) {
    const ByteString content = encode_state(link);
    database_->query("INSERT INTO link(target, source, fact, content) VALUES(?,?,?,?)")
        .bind(story(link.to))
        .bind(from)
        .bind(link.fact)
        .bind(content)
        .run();
  }
}

namespace {

// What stands against work on it: until when nobody enters, in milliseconds since 1970; for good where it is on hold or
// was found bad. 0: nothing. Kept in a column, so that what is guarded is found among a million pots.
constexpr std::int64_t for_good = INT64_MAX;
std::int64_t guarded(bool held, const std::optional<TestSeen>& test, const std::optional<NoEntry>& no_entry) {
  if (held || (test && test->result == TestResult::positive)) return for_good;
  return no_entry ? std::max<std::int64_t>(no_entry->until.utc_ms, 1) : 0;
}
std::int64_t guarded(const BatchState& batch) {
  return guarded(batch.held, batch.last_test, batch.no_entry);
}
std::int64_t guarded(const PotState& pot) {
  return guarded(pot.held, pot.last_test, pot.no_entry);
}

}  // namespace

std::vector<std::pair<StoryNo, std::int32_t>> Store::guarded_after(std::int64_t now_ms) {
  std::vector<std::pair<StoryNo, std::int32_t>> all;
  Query query = database_->query(
      "SELECT story, 0 FROM batch WHERE guarded<>0 AND guarded>?1 "
      "UNION ALL SELECT story, number FROM pot WHERE guarded<>0 AND guarded>?1 ORDER BY 1, 2");
  query.bind(now_ms);
  while (query.step()) all.emplace_back(query.number(0), static_cast<std::int32_t>(query.number(1)));
  return all;
}

std::vector<StoryNo> Store::to_be_folded_anew() {
  return numbers(database_->query("SELECT story FROM refold"));
}

void Store::folded_anew() {
  database_->query("DELETE FROM refold").run();
}

void Store::put_batch(StoryNo story, const BatchState& batch) {
  const ByteString state = encode_state(batch);
  database_
      ->query(
          "INSERT INTO batch(story, label, mark, guarded, state) VALUES(?,?,?,?,?) ON CONFLICT(story) DO UPDATE "
          "SET label=excluded.label, mark=excluded.mark, guarded=excluded.guarded, state=excluded.state")
      .bind(story)
      .bind(batch.label)
      .bind(batch.mark)
      .bind(guarded(batch))
      .bind(state)
      .run();
}

void Store::put_pot(StoryNo story, const PotState& pot) {
  const ByteString state = encode_state(pot);
  database_
      ->query(
          "INSERT INTO pot(story, number, emptied, guarded, state) VALUES(?,?,?,?,?) ON CONFLICT(story, number) "
          "DO UPDATE SET emptied=excluded.emptied, guarded=excluded.guarded, state=excluded.state")
      .bind(story)
      .bind(pot.pot.number)
      .bind(pot.emptied ? 1 : 0)
      .bind(guarded(pot))
      .bind(state)
      .run();
}

void Store::put_matter(StoryNo story, const Matter& matter) {
  const ByteString content = encode_state(matter);
  database_->query("INSERT OR REPLACE INTO matter(story, id, pot, kind, content) VALUES(?,?,?,?,?)")
      .bind(story)
      .bind(static_cast<std::int64_t>(matter.id.value))
      .bind(matter.pot.number)
      .bind(static_cast<std::int64_t>(matter.kind))
      .bind(content)
      .run();
}

void Store::drop_balance_matters(StoryNo story, std::int32_t pot) {
  database_->query("DELETE FROM matter WHERE story=? AND pot=? AND kind=?")
      .bind(story)
      .bind(pot)
      .bind(static_cast<std::int64_t>(MatterKind::balance))
      .run();
}

// Only rows that changed are written: reading them is cheaper than the log.
void Store::put_folded(StoryNo story, const FoldedStory& folded) {
  bool batch_same = false;
  {
    Query query = database_->query("SELECT label, mark, state FROM batch WHERE story=?");
    query.bind(story);
    if (query.step()) {
      const ByteString state = encode_state(folded.batch);
      batch_same = query.view(0) == folded.batch.label && query.view(1) == folded.batch.mark &&
                   query.view(2) == std::string_view(reinterpret_cast<const char*>(state.data()), state.size());
    }
  }
  if (!batch_same) put_batch(story, folded.batch);

  std::vector<std::int64_t> gone;
  std::set<std::int64_t> same;
  {
    Query query = database_->query("SELECT number, emptied, state FROM pot WHERE story=?");
    query.bind(story);
    while (query.step()) {
      const auto found = folded.pots.find(static_cast<std::int32_t>(query.number(0)));
      if (found == folded.pots.end()) {
        gone.push_back(query.number(0));
        continue;
      }
      const ByteString state = encode_state(found->second);
      if ((query.number(1) != 0) == found->second.emptied &&
          query.view(2) == std::string_view(reinterpret_cast<const char*>(state.data()), state.size())) {
        same.insert(query.number(0));
      }
    }
  }
  for (std::int64_t number : gone) {
    database_->query("DELETE FROM pot WHERE story=? AND number=?").bind(story).bind(number).run();
  }
  for (const auto& [number, pot] : folded.pots) {
    if (same.count(number) == 0) put_pot(story, pot);
  }
  if (!folded.matters.empty() || !matters(story).empty()) {
    database_->query("DELETE FROM matter WHERE story=?").bind(story).run();
    for (const Matter& matter : folded.matters) put_matter(story, matter);
  }
}

Store::FoldedRows Store::folded_rows(StoryNo story) {
  FoldedRows rows;
  {
    Query query = database_->query("SELECT label, mark, state, guarded FROM batch WHERE story=?");
    query.bind(story);
    if (query.step()) {
      rows.label = query.text(0);
      rows.mark = query.text(1);
      BatchState batch;
      if (decode_state(query.view(2), batch) && guarded(batch) == query.number(3)) rows.batch = query.text(2);
    }
  }
  {
    Query query = database_->query("SELECT number, emptied, state, guarded FROM pot WHERE story=? ORDER BY number");
    query.bind(story);
    while (query.step()) {
      PotState pot;
      const bool fits = decode_state(query.view(2), pot) && guarded(pot) == query.number(3);
      rows.pots.push_back({query.number(0), {query.number(1), fits ? query.text(2) : std::string()}});
    }
  }
  {
    Query query = database_->query("SELECT id, pot, kind, content FROM matter WHERE story=? ORDER BY id");
    query.bind(story);
    while (query.step()) {
      Matter matter;
      const bool fits = decode_state(query.view(3), matter) && matter.pot.number == query.number(1) &&
                        static_cast<std::int64_t>(matter.kind) == query.number(2);
      rows.matters.push_back({query.number(0), fits ? query.text(3) : std::string()});
    }
  }
  Query query = database_->query("SELECT target, fact, content FROM link WHERE source=? ORDER BY fact");
  query.bind(story);
  while (query.step()) {
    Link link;
    const bool fits = decode_state(query.view(2), link) && link.fact == query.fixed<FactKey>(1);
    rows.links.push_back({query.number(0), fits ? query.text(2) : std::string()});
  }
  return rows;
}

void Store::forked_rows(const WriterRow& writer, std::vector<std::uint64_t>& main_out, std::vector<Hash>& aside_in) {
  {
    Query query = database_->query("SELECT seq FROM forked WHERE writer=? ORDER BY seq");
    query.bind(writer.no);
    while (query.step()) main_out.push_back(static_cast<std::uint64_t>(query.number(0)));
  }
  Query query = database_->query("SELECT hash FROM aside WHERE writer=? AND counts<>0 ORDER BY hash");
  query.bind(writer.id);
  while (query.step()) aside_in.push_back(query.fixed<Hash>(0));
}

// What no entry's hash covers: the file's own order, settings, and that the dictionaries hold nothing twice or unused.
std::vector<std::string> Store::faults() {
  std::vector<std::string> found;
  {
    Query query = database_->query("PRAGMA integrity_check(20)");
    while (query.step()) {
      if (query.text(0) != "ok") found.push_back("the file's pages: " + query.text(0));
    }
  }
  if (database_->failed()) {
    found.push_back(database_->error().what);
    return found;
  }
  {
    Query query = database_->query("SELECT name, value, seal FROM setting");
    while (query.step()) {
      std::string text = "motherbulb setting 1";
      text += '\0';
      text += query.text(0);
      text += '\0';
      text += query.text(1);
      Hash hash;
      crypto_generichash(hash.bytes.data(), hash.bytes.size(), reinterpret_cast<const std::uint8_t*>(text.data()),
                         text.size(), nullptr, 0);
      if (hash != query.fixed<Hash>(2)) found.push_back("table setting: '" + query.text(0) + "' was changed");
    }
  }
  const auto count = [this](const char* sql) {
    Query query = database_->query(sql);
    return query.step() ? query.number(0) : -1;
  };
  if (count("SELECT count(*) FROM fact f LEFT JOIN entry e ON e.writer=f.writer AND e.seq=f.seq WHERE e.origin IS NULL "
            "OR substr(e.origin,1,16)<>f.fact") != 0 ||
      count("SELECT (SELECT count(*) FROM fact)-(SELECT count(*) FROM entry WHERE origin IS NOT NULL)") != 0) {
    found.push_back("table fact does not fit the entries");
  }
  if (count("SELECT count(*) FROM word w WHERE NOT EXISTS (SELECT 1 FROM entry e WHERE e.helper=w.no)") != 0) {
    found.push_back("table word holds a helper that no entry names");
  }
  if (count(
          "SELECT count(*) FROM batch b WHERE b.label<>'' AND NOT EXISTS (SELECT 1 FROM story s WHERE s.no=b.story)") !=
      0) {
    found.push_back("table batch holds a story that is not there");
  }
  if (count("SELECT (SELECT count(*) FROM entry)-(SELECT coalesce(sum(last),0) FROM writer)") != 0 ||
      count("SELECT count(*) FROM forked f WHERE NOT EXISTS (SELECT 1 FROM aside a JOIN writer w ON w.id=a.writer "
            "WHERE w.no=f.writer)") != 0) {
    found.push_back("table writer does not fit the entries");
  }
  if (count("SELECT count(*) FROM story s WHERE NOT EXISTS (SELECT 1 FROM entry e WHERE e.story=s.no) AND NOT EXISTS "
            "(SELECT 1 FROM entry e WHERE e.batch=s.no) AND NOT EXISTS (SELECT 1 FROM link l WHERE l.target=s.no) AND "
            "NOT EXISTS (SELECT 1 FROM aside a WHERE a.story=s.no)") != 0) {
    found.push_back("table story holds a batch that no entry names");
  }
  {
    // What begins a batch is told in the batch's own story.
    Query query = database_->query(
        "SELECT w.id, e.seq, e.story, e.origin FROM entry e JOIN writer w ON w.no=e.writer "
        "WHERE e.kind=1");
    while (query.step()) {
      FactKey fact = fact_key(EntryId{query.fixed<WriterId>(0), static_cast<std::uint64_t>(query.number(1))});
      TableOrigin origin;
      if (!query.is_null(3) && decode_origin(query.view(3), origin)) fact = origin.fact;
      if (story_id(query.number(2)) != batch_of(fact))
        found.push_back("table entry: a batch is told in another's story");
    }
  }
  for (const char* table : {"parked", "aside"}) {
    Query query = database_->query(std::string("SELECT writer, seq, hash, previous, body FROM ") + table);
    while (query.step()) {
      const auto body = query.view(4);
      if (entry_hash(query.fixed<Hash>(3), reinterpret_cast<const std::uint8_t*>(body.data()), body.size()) !=
          query.fixed<Hash>(2)) {
        found.push_back(std::string("table ") + table + ": an entry was changed");
      }
    }
  }
  return found;
}

namespace {

// What a copy under way asks of whoever waits for it: how far it is shows in how large it has become.
struct Copying {
  const std::string& file;
  Progress* progress;
  double whole;  // bytes
  bool stopped = false;
};

constexpr int steps_between_questions = 100'000;  // of the store's machine: some milliseconds
constexpr double share_of_copying = 0.6;          // the rest is reading it back

int ask_copying(void* given) {
  auto& copying = *static_cast<Copying*>(given);
  struct stat about {};
  const double written = ::stat(copying.file.c_str(), &about) == 0 ? static_cast<double>(about.st_size) : 0;
  const double share = share_of_copying * std::min(1.0, written / std::max(1.0, copying.whole));
  if (!copying.progress->go_on(share)) copying.stopped = true;
  return copying.stopped ? 1 : 0;
}

}  // namespace

Outcome Store::copy_to(const std::string& file, Progress* progress) {
  struct stat about {};
  if (::stat(file.c_str(), &about) == 0) {
    return refusal(file + " is already there; name a new file, since a backup never overwrites one");
  }
  if (auto there = folder_is_there(file); !there) return there;
  Query query = database_->query("VACUUM INTO ?");
  struct stat own {};
  Copying copying{file, progress, ::stat(path().c_str(), &own) == 0 ? static_cast<double>(own.st_size) : 0};
  sqlite3* handle = database_->handle();
  if (progress != nullptr && handle != nullptr)
    sqlite3_progress_handler(handle, steps_between_questions, ask_copying, &copying);
  query.bind(file).run();
  if (handle != nullptr) sqlite3_progress_handler(handle, 0, nullptr, nullptr);
  if (copying.stopped) {
    database_->forget_error();
    std::remove(file.c_str());
    return Error{ErrorKind::cancelled, "stopped; no copy was written", {}};
  }
  if (database_->failed()) {
    const Error error = sqlite_error(database_->fault_code(), file, sqlite3_errmsg(database_->handle()));
    database_->forget_error();
    std::remove(file.c_str());
    return error;
  }
  return Done{};
}

}  // namespace motherbulb
