// Work on one pot, a bench or a batch, until the book has it.
#pragma once

namespace motherbulb {

struct CareDraft {};

}  // namespace motherbulb
