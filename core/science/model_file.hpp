// The model file: what outlook reads with --model and writes with --save-model (section 3 of the mathematics).
//
//   {"name": "...", "classes": [{"name": "8-12", "saleable": false}, ...], "start": [81, ...],
//    "years": [{"name": "ordinary", "weight": 9, "survival": [[...]], "increase": [[...]]}, ...],
//    "increase_law": "poisson" | "negbin", "dispersion": f,
//    "places": [share, ...], "bad_event": {"chance": q, "takes": r},
//    "may_be": [{"years": [{"survival": [[...]], "increase": [[...]]}, ...], "dispersion": f, "bad_event": {...}},
//    ...]}
//
// Tables are lists of rows: columns are from, rows are to. A year may give "matrix" in place of survival and increase.
// name, weight (1), increase_law (poisson), places (one), bad_event (none) and may_be (none: the numbers are known) may
// be left out; so may dispersion (the model's) and bad_event (none) of a set. What was written is read back equal, to
// the last bit of every number.
#pragma once

#include <string>
#include <string_view>

#include "core/science/model.hpp"
#include "shared/result.hpp"

namespace motherbulb {

// `file` is what the error calls it. Refused, in one line with file and field, where anything is wrong.
Result<Model> model_from_json(std::string_view text, std::string_view file);
std::string to_json(const Model& model);

}  // namespace motherbulb
