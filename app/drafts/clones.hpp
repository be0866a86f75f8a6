// The clones: what is chosen and what is being typed.
#pragma once

namespace motherbulb {

struct ClonesDraft {};

}  // namespace motherbulb
