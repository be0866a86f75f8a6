#include "core/health/troubles.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "core/plans/shipped.hpp"
#include "shared/result.hpp"

namespace motherbulb {
namespace {

using Json = nlohmann::json;

// The file is part of the program, so whatever is wrong with it was wrong when the program was built.
std::string text_of(const Json& one, const char* key) {
  const auto found = one.find(key);
  CHECK_OURS(found != one.end() && found->is_string());
  return found->get<std::string>();
}

bool yes_of(const Json& one, const char* key) {
  const auto found = one.find(key);
  CHECK_OURS(found != one.end() && found->is_boolean());
  return found->get<bool>();
}

std::vector<Trouble> read_troubles() {
  const Json all = Json::parse(troubles_text, nullptr, false);
  CHECK_OURS(all.is_array());
  std::vector<Trouble> read;
  for (const Json& one : all) {
    CHECK_OURS(one.is_object() && one.size() == 9);
    const auto cause = cause_from_text(text_of(one, "cause"));
    CHECK_OURS(cause.has_value());
    read.push_back({text_of(one, "id"), text_of(one, "name"), *cause, text_of(one, "shows"), text_of(one, "usual"),
                    text_of(one, "caution"), yes_of(one, "never_cut"), yes_of(one, "notify"), text_of(one, "source")});
  }
  return read;
}

// People and tables write "bulb mite"; the id has hyphens.
bool same(std::string_view id, std::string_view detail) {
  return std::equal(id.begin(), id.end(), detail.begin(), detail.end(), [](char in_id, char written) {
    if (written >= 'A' && written <= 'Z') written = static_cast<char>(written - 'A' + 'a');
    return in_id == (written == ' ' ? '-' : written);
  });
}

}  // namespace

const std::vector<Trouble>& troubles() {
  static const std::vector<Trouble> all = read_troubles();
  return all;
}

const Trouble* trouble_of(std::string_view detail) {
  const auto& all = troubles();
  const auto found = std::find_if(all.begin(), all.end(), [&](const Trouble& one) { return same(one.id, detail); });
  return found == all.end() ? nullptr : &*found;
}

}  // namespace motherbulb
