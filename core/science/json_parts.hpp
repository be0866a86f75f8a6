// Pieces of JSON that more than one answer of the mathematics has. Include in *_file.cpp and the command line only.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <utility>

#include "core/science/model.hpp"

namespace motherbulb {

template <class T>
nlohmann::ordered_json or_null(const std::optional<T>& value) {
  return value ? nlohmann::ordered_json(*value) : nlohmann::ordered_json(nullptr);
}

// Row after row: columns are from, rows are to.
inline nlohmann::ordered_json rows_of(const Square& table) {
  auto rows = nlohmann::ordered_json::array();
  for (std::size_t to = 0; to < table.size; ++to) {
    auto row = nlohmann::ordered_json::array();
    for (std::size_t from = 0; from < table.size; ++from) row.push_back(table.at(to, from));
    rows.push_back(std::move(row));
  }
  return rows;
}

}  // namespace motherbulb
