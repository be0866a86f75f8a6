#include "app/wishes.hpp"

#include "app/ui_state.hpp"

namespace motherbulb {

Wish::Wish(const Wish& other) = default;
Wish::Wish(Wish&& other) noexcept = default;
Wish& Wish::operator=(const Wish& other) = default;
Wish& Wish::operator=(Wish&& other) noexcept = default;
Wish::~Wish() = default;

}  // namespace motherbulb
