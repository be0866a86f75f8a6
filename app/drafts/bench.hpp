// The bench view: which bench, which pots, what is seen, until the book has it.
#pragma once

namespace motherbulb {

struct BenchDraft {};

}  // namespace motherbulb
