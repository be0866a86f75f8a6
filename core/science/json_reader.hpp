// Reads the files of the mathematics (models, yields, plans): JSON of a written shape, of which nothing is guessed.
//
// The first fault ends the reading and is kept as one line "FILE: field: what, and what would mend it". After it every
// further question is answered with an empty value, so that a reader is written straight down and asks once at its end.
// Unknown fields, and fields that stand twice, are faults: they would be lost in silence. Include in *_file.cpp only.
#pragma once

#include <cmath>
#include <cstdint>
#include <nlohmann/json.hpp>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "shared/result.hpp"

namespace motherbulb {

class JsonReader {
public:
  using Json = nlohmann::ordered_json;

  explicit JsonReader(std::string_view file) : file_(file) {}

  // The whole file; null after a fault.
  Json parse(std::string_view text) {
    std::vector<std::set<std::string>> open;  // the fields of the objects around, outermost first
    const auto watch = [&](int, Json::parse_event_t event, Json& value) {
      if (event == Json::parse_event_t::object_start) open.emplace_back();
      if (event == Json::parse_event_t::object_end) open.pop_back();
      if (event == Json::parse_event_t::key && !open.back().insert(value.get<std::string>()).second) {
        fault(value.get<std::string>(), "stands twice in one object; write it once");
      }
      return true;
    };
    try {
      return Json::parse(text, watch);
    } catch (const Json::exception& wrong) {
      const std::string what = wrong.what();
      // The library's own name and number of the fault say nothing to a person.
      const std::size_t after = what.find("] ");
      fault("", "is no JSON that can be read (" + what.substr(after == std::string::npos ? 0 : after + 2) +
                    "); mend it there");
      return Json();
    }
  }

  bool ok() const { return !fault_; }
  Error error() const { return refusal(*fault_); }

  void fault(const std::string& where, const std::string& what) {
    if (fault_) return;
    fault_ = file_ + ": " + (where.empty() ? "" : where + ": ") + what;
    // A name in the file may hold a line's end.
    for (char& one : *fault_) one = static_cast<unsigned char>(one) < 0x20 ? ' ' : one;
  }

  // An object with no other fields than those.
  bool object(const Json& value, const std::string& where, std::initializer_list<std::string_view> known) {
    if (!ok()) return false;
    if (!value.is_object()) {
      fault(where, "is no object; write it in braces");
      return false;
    }
    for (const auto& [key, unused] : value.items()) {
      bool found = false;
      for (const std::string_view one : known) found = found || one == key;
      if (found) continue;
      std::string all;
      for (const std::string_view one : known) all += (all.empty() ? "" : ", ") + std::string(one);
      fault(inside(where, key), "there is no such field; it takes " + all);
      return false;
    }
    return true;
  }

  // The field of an object, where it stands and is not null.
  static const Json* find(const Json& value, const char* key) {
    const auto found = value.find(key);
    return found == value.end() || found->is_null() ? nullptr : &*found;
  }
  // The field of an object that must stand there.
  const Json& need(const Json& value, const std::string& where, const char* key) {
    static const Json nothing;
    if (!ok()) return nothing;
    if (const auto found = value.find(key); found != value.end()) return *found;
    fault(inside(where, key), "is missing; write it");
    return nothing;
  }

  std::string text(const Json& value, const std::string& where) {
    if (!ok()) return "";
    if (!value.is_string()) {
      fault(where, "is no text; write it in quotes");
      return "";
    }
    return value.get<std::string>();
  }
  bool yes_or_no(const Json& value, const std::string& where) {
    if (!ok()) return false;
    if (!value.is_boolean()) {
      fault(where, "is neither true nor false; write one of them");
      return false;
    }
    return value.get<bool>();
  }
  double number(const Json& value, const std::string& where) {
    if (!ok()) return 0;
    if (!value.is_number() || !std::isfinite(value.get<double>())) {
      fault(where, "is no finite number; write one without quotes");
      return 0;
    }
    return value.get<double>();
  }
  double number_from(const Json& value, const std::string& where, double least, double greatest) {
    const double read = number(value, where);
    if (ok() && (read < least || read > greatest)) {
      fault(where, read < 0 && least == 0 ? "is negative; write 0 or more"
                                          : "is out of range; write a smaller or a larger one");
      return 0;
    }
    return read;
  }
  // A whole number, 81 or 81.0.
  std::int64_t whole(const Json& value, const std::string& where, std::int64_t least, std::int64_t greatest) {
    const double read = number(value, where);
    if (!ok()) return 0;
    if (read != std::floor(read)) {
      fault(where, "is no whole number; write one");
      return 0;
    }
    if (read < static_cast<double>(least) || read > static_cast<double>(greatest)) {
      fault(where, (read < 0 && least >= 0 ? "is negative; write " : "is out of range; write ") +
                       std::to_string(least) + " to " + std::to_string(greatest));
      return 0;
    }
    return static_cast<std::int64_t>(read);
  }
  const Json& list(const Json& value, const std::string& where) {
    static const Json none = Json::array();
    if (!ok()) return none;
    if (!value.is_array()) {
      fault(where, "is no list; write it in square brackets");
      return none;
    }
    return value;
  }

  static std::string inside(const std::string& where, const std::string& key) {
    return where.empty() ? key : where + "." + key;
  }
  static std::string nth(const std::string& where, std::size_t index) {
    return where + "[" + std::to_string(index) + "]";
  }

private:
  std::string file_;
  std::optional<std::string> fault_;
};

}  // namespace motherbulb
