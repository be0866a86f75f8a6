// The modulus of the second eigenvalue of one primitive block of classes.
#pragma once

#include "core/science/perron.hpp"

namespace motherbulb {

// The largest modulus after the Perron root's, in true numbers; 0 where every other eigenvalue is 0. `block` has period
// 1 and at least two classes; `matrix` is the one that it was made of.
//
// Eigenvalues that are exactly 0 are counted and not computed, as a solver makes 1e-9 of a defective 0. What a change
// of eight last places in the entries alters by more than half is 0 as well: entries that are decimal fractions do not
// tell it from 0.
LongNumber second_modulus(const PerronBlock& block, const Square& matrix);

// How many eigenvalues of the block are exactly 0.
std::size_t zero_eigenvalues(const Square& matrix, const std::vector<std::size_t>& block);

}  // namespace motherbulb
