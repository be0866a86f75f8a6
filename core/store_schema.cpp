#include "core/store_schema.hpp"

#include <array>
#include <string>

#include "core/store_sqlite.hpp"

namespace motherbulb::schema {
namespace {

// Step i makes version i + 1 of version i.
constexpr std::array<const char*, current> steps = {
    R"sql(
CREATE TABLE setting(name TEXT PRIMARY KEY, value BLOB NOT NULL, seal BLOB NOT NULL) STRICT, WITHOUT ROWID;

CREATE TABLE writer(no INTEGER PRIMARY KEY, id BLOB NOT NULL UNIQUE CHECK(length(id)=16),
                    last INTEGER NOT NULL CHECK(last>=0), head BLOB NOT NULL CHECK(length(head)=32)) STRICT;
CREATE TABLE word(no INTEGER PRIMARY KEY, text TEXT NOT NULL UNIQUE) STRICT;
CREATE TABLE story(no INTEGER PRIMARY KEY, id BLOB NOT NULL UNIQUE CHECK(length(id)=16)) STRICT;

CREATE TABLE entry(writer INTEGER NOT NULL, seq INTEGER NOT NULL CHECK(seq>=1), stamp INTEGER NOT NULL,
                   at INTEGER NOT NULL, zone INTEGER NOT NULL, helper INTEGER NOT NULL, batch INTEGER,
                   story INTEGER NOT NULL, pot INTEGER NOT NULL CHECK(pot>=0), kind INTEGER NOT NULL,
                   payload BLOB NOT NULL, origin BLOB, hash BLOB NOT NULL CHECK(length(hash)=32),
                   PRIMARY KEY(writer, seq)) STRICT, WITHOUT ROWID;
CREATE INDEX entry_story ON entry(story, kind);
CREATE TRIGGER entry_stays BEFORE UPDATE ON entry BEGIN SELECT RAISE(ABORT, 'an entry never changes'); END;
CREATE TRIGGER entry_remains BEFORE DELETE ON entry BEGIN SELECT RAISE(ABORT, 'an entry never leaves'); END;
CREATE TABLE fact(fact BLOB NOT NULL, writer INTEGER NOT NULL, seq INTEGER NOT NULL,
                  PRIMARY KEY(fact, writer, seq)) STRICT, WITHOUT ROWID;

CREATE TABLE parked(writer BLOB NOT NULL, seq INTEGER NOT NULL, hash BLOB NOT NULL, previous BLOB NOT NULL,
                    body BLOB NOT NULL, PRIMARY KEY(writer, seq, hash)) STRICT, WITHOUT ROWID;
CREATE TABLE aside(writer BLOB NOT NULL, seq INTEGER NOT NULL, hash BLOB NOT NULL, previous BLOB NOT NULL,
                   story INTEGER NOT NULL, counts INTEGER NOT NULL, body BLOB NOT NULL,
                   PRIMARY KEY(writer, seq, hash)) STRICT, WITHOUT ROWID;
CREATE TABLE forked(writer INTEGER NOT NULL, seq INTEGER NOT NULL, PRIMARY KEY(writer, seq)) STRICT, WITHOUT ROWID;

CREATE TABLE batch(story INTEGER PRIMARY KEY, label TEXT NOT NULL, mark TEXT NOT NULL, state BLOB NOT NULL) STRICT;
CREATE INDEX batch_label ON batch(label);
CREATE INDEX batch_mark ON batch(mark) WHERE mark<>'';
CREATE TABLE pot(story INTEGER NOT NULL, number INTEGER NOT NULL, emptied INTEGER NOT NULL, state BLOB NOT NULL,
                 PRIMARY KEY(story, number)) STRICT, WITHOUT ROWID;
CREATE TABLE link(target INTEGER NOT NULL, source INTEGER NOT NULL, fact BLOB NOT NULL, content BLOB NOT NULL,
                  PRIMARY KEY(target, source, fact)) STRICT, WITHOUT ROWID;
CREATE INDEX link_source ON link(source);
CREATE TABLE matter(story INTEGER NOT NULL, id INTEGER NOT NULL, pot INTEGER NOT NULL, kind INTEGER NOT NULL,
                    content BLOB NOT NULL, PRIMARY KEY(story, id)) STRICT, WITHOUT ROWID;
CREATE TABLE device(writer INTEGER PRIMARY KEY, letter TEXT NOT NULL) STRICT;
)sql",
    // What growing plans count from, holds and re-entry times are folded too: everything is folded anew. `refold` names
    // the stories that are not yet; Logbook::open folds them.
    R"sql(
DROP TABLE batch;
DROP TABLE pot;
DELETE FROM link;
DELETE FROM matter;
CREATE TABLE batch(story INTEGER PRIMARY KEY, label TEXT NOT NULL, mark TEXT NOT NULL, guarded INTEGER NOT NULL,
                   state BLOB NOT NULL) STRICT;
CREATE INDEX batch_label ON batch(label);
CREATE INDEX batch_mark ON batch(mark) WHERE mark<>'';
CREATE INDEX batch_guarded ON batch(guarded) WHERE guarded<>0;
CREATE TABLE pot(story INTEGER NOT NULL, number INTEGER NOT NULL, emptied INTEGER NOT NULL, guarded INTEGER NOT NULL,
                 state BLOB NOT NULL, PRIMARY KEY(story, number)) STRICT, WITHOUT ROWID;
CREATE INDEX pot_guarded ON pot(guarded) WHERE guarded<>0;
CREATE TABLE refold(story INTEGER PRIMARY KEY) STRICT;
INSERT INTO refold SELECT no FROM story;
)sql"};

void run_steps(Database& database, std::int64_t from) {
  database.execute("BEGIN IMMEDIATE");
  for (std::int64_t i = from; i < current; ++i) database.execute(steps[static_cast<std::size_t>(i)]);
  database.execute(("PRAGMA user_version=" + std::to_string(current)).c_str());
  database.execute("COMMIT");
}

}  // namespace

void create(Database& database) {
  database.execute(("PRAGMA application_id=" + std::to_string(application_id)).c_str());
  run_steps(database, 0);
}

void upgrade(Database& database, std::int64_t from) {
  if (from < 1) {
    database.fail(ErrorKind::damaged, "the book was never finished; delete it and make it anew");
    return;
  }
  run_steps(database, from);
}

}  // namespace motherbulb::schema
