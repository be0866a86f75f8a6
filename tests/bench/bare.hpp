// What bare SQLite does with the same rows and the same settings: what our own work is held against.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "tests/bench/measure.hpp"

namespace motherbulb::bench {

// The entries of the store, with their index, in a file of their own. Rows of its second writer get this number, and
// their stories others, so that two such files differ as two books do.
void make_bare(const std::string& store, const std::string& bare, int second_writer);
// One insert a transaction, like rows that are there; each one's seconds.
std::vector<double> bare_inserts(const std::string& bare, int count);
void bare_merge(Measured& measured, const std::string& bare, const std::string& other);
// `count` rows that only the other file has, and a commit; seconds of processor for each of `times`.
std::vector<double> bare_hundreds(const std::string& bare, const std::string& other, int times);
// Reads every column of every entry.
void bare_scan(Measured& measured, const std::string& bare);
// The table into a fresh file with an index by batch, cells split at commas, times and numbers read; as much as any
// program must do.
void bare_table(Measured& measured, const std::string& table, const std::string& bare);

}  // namespace motherbulb::bench
