#include "app/words/spoken.hpp"

#include <array>
#include <utility>

namespace motherbulb {
namespace {

constexpr std::array<std::pair<std::string_view, std::string_view>, 46> known{{
    {"back", "Back"},
    {"theme", "Day or night colours"},
    {"find", "Find a pot"},
    {"health", "Pests and damage"},
    {"mother", "The opened mother"},
    {"due:more", "More about what is due"},
    {"error:aside", "Put this aside"},
    {"care:close", "Close"},
    {"look:close", "Close"},
    {"list:close", "Close"},
    {"detail:close", "Close"},
    {"pad:undo", "Take the last back"},
    {"key:undo", "Take the last sign back"},
    {"letter:undo", "Take the last sign back"},
    {"plan-name:undo", "Take the last sign back"},
    {"plan-name:space", "Space"},
    {"bench:back", "The bench before"},
    {"bench:next", "The next bench"},
    {"grade:smaller", "Smaller sizes"},
    {"grade:larger", "Larger sizes"},
    {"mothers:minus", "A mother fewer"},
    {"mothers:plus", "A mother more"},
    {"sections:minus", "Fewer sections"},
    {"sections:plus", "More sections"},
    {"girth:less", "Less round"},
    {"girth:more", "More round"},
    {"target:less", "Fewer wanted"},
    {"target:more", "More wanted"},
    {"season:less", "A season sooner"},
    {"season:more", "A season later"},
    {"compared:less", "Compared a season sooner"},
    {"compared:more", "Compared a season later"},
    {"sure:less", "Less sure"},
    {"sure:more", "More sure"},
    {"reserve:less", "Fewer kept back"},
    {"reserve:more", "More kept back"},
    {"hours:less", "Fewer hours"},
    {"hours:more", "More hours"},
    {"pots:less", "Room for fewer pots"},
    {"pots:more", "Room for more pots"},
    {"plan:opens:less", "The window opens sooner"},
    {"plan:opens:more", "The window opens later"},
    {"plan:closes:less", "The window closes sooner"},
    {"plan:closes:more", "The window closes later"},
    {"plan:every:less", "More often"},
    {"plan:every:more", "Less often"},
}};

}  // namespace

std::optional<std::string> words_without_text(std::string_view name) {
  for (const auto& [of, words] : known) {
    if (name == of) return std::string(words);
  }
  return std::nullopt;
}

}  // namespace motherbulb
