// Yearly matrices that others have published with what they found for them, as printed; rows are to, columns are from.
#pragma once

#include <cstddef>
#include <initializer_list>
#include <string>
#include <vector>

#include "core/science/model.hpp"

namespace motherbulb::published {

inline Square square(std::initializer_list<std::initializer_list<double>> rows) {
  Square made(rows.size());
  std::size_t cell = 0;
  for (const auto& row : rows) {
    for (const double number : row) made.cells[cell++] = number;
  }
  return made;
}

// Loggerhead turtle (Caretta), seven stages: Crouse, Crowder & Caswell, "A stage-based population model for loggerhead
// sea turtles and implications for conservation" (1987). Entries, rate, stable stages and reproductive values as seen
// in print: trade-values V297-V309, V380-V394.
inline Square loggerhead() {
  return square({{0, 0, 0, 0, 127, 4, 80},
                 {0.6747, 0.7370, 0, 0, 0, 0, 0},
                 {0, 0.0486, 0.6610, 0, 0, 0, 0},
                 {0, 0, 0.0147, 0.6907, 0, 0, 0},
                 {0, 0, 0, 0.0518, 0, 0, 0},
                 {0, 0, 0, 0, 0.8091, 0, 0},
                 {0, 0, 0, 0, 0, 0.8091, 0.8089}});
}
inline constexpr double loggerhead_rate = 0.9450309806;
inline const std::vector<double> loggerhead_stable = {0.207, 0.670, 0.115, 0.007, 0.000, 0.000, 0.002};
inline const std::vector<double> loggerhead_value = {1,          1.400668,   5.995523,  115.844511,
                                                     568.780852, 507.373040, 587.669314};

// Penstemon albomarginatus, five stages, three years and their printed mean: source S81 of the trade facts, seen
// (trade-values V327-V379, V395-V447, V520-V531). Print has four or five digits.
inline Square penstemon_1994() {
  return square({{0.07692, 0.1459, 0.7878, 0.7878, 4.355},
                 {0.53846, 0.3333, 0.3333, 0, 0},
                 {0.07692, 0.3333, 0, 0, 0},
                 {0, 0.1667, 0.3333, 0.5, 0},
                 {0, 0, 0.3333, 0.5, 1}});
}
inline Square penstemon_1995() {
  return square({{0.2000, 0.2626, 1.0298, 3.52160, 6.21499},
                 {0.2125, 0.7419, 0.4706, 0.07692, 0},
                 {0, 0.1290, 0.4706, 0.15385, 0.09091},
                 {0, 0, 0, 0.76923, 0.36364},
                 {0, 0, 0, 0, 0.54545}});
}
inline Square penstemon_2011() {
  return square({{0.1573, 0.98329, 4.5710, 8.0648, 7.922},
                 {0, 0.05556, 0.3077, 0.1429, 0},
                 {0, 0, 0, 0, 0.5},
                 {0, 0, 0, 0, 0},
                 {0, 0, 0, 0.1429, 0}});
}
inline Square penstemon_mean() {
  return square({{0.14475, 0.46393, 2.1295, 4.12473, 6.1639},
                 {0.25032, 0.37694, 0.3705, 0.07326, 0},
                 {0.02564, 0.15412, 0.1569, 0.05128, 0.1970},
                 {0, 0.05556, 0.1111, 0.42308, 0.1212},
                 {0, 0, 0.1111, 0.21429, 0.5152}});
}
inline const std::vector<double> penstemon_start = {81, 31, 17, 13, 11};
inline constexpr double penstemon_1994_rate = 1.496;
inline const std::vector<double> penstemon_1994_stable = {0.48307, 0.24671, 0.07983, 0.06803, 0.12235};
inline constexpr double penstemon_1995_rate = 0.9954;
// Printed is 0.3065, but that is only the ratio of two totals; 0.1573 is derived (V531), and stands on the diagonal.
inline constexpr double penstemon_2011_rate = 0.1573;
inline constexpr double penstemon_mean_rate = 1.089;
inline const std::vector<double> penstemon_mean_stable = {0.61436, 0.25469, 0.06677, 0.03730, 0.02688};
inline const std::vector<double> penstemon_mean_value = {1.000, 3.072, 6.816, 12.099, 15.647};
inline constexpr double penstemon_mean_damping = 4.215;
inline Square penstemon_mean_elasticity() {
  return square({{0.02999, 0.03985, 0.04795, 0.051889, 0.05587},
                 {0.15935, 0.09948, 0.02564, 0.002832, 0},
                 {0.03621, 0.09023, 0.02408, 0.004397, 0.01217},
                 {0, 0.05773, 0.03027, 0.064394, 0.01329},
                 {0, 0, 0.03915, 0.042180, 0.07306}});
}
inline constexpr double penstemon_log_growth = -0.1183;  // one random run of 50,000 steps

// Three classes that never settle: source S80, derived (V462): the cube of the rate is 2 · 0.3 · 0.6.
inline Square three_seasons_round() {
  return square({{0, 0, 2}, {0.3, 0, 0}, {0, 0.6, 0}});
}
inline constexpr double three_seasons_round_rate = 0.71137866;

// A Leslie matrix with rate 3/2 and stable stages 18 : 6 : 1 exactly: derived (V461). Its other figures by hand in
// growth_rate_test.cpp.
inline Square leslie() {
  return square({{0, 4, 3}, {0.5, 0, 0}, {0, 0.25, 0}});
}

// Centaurea, three stages: entries seen (source S85), rate computed for the trade facts (V463).
inline Square centaurea() {
  return square({{0, 0, 5.905}, {0.368, 0.639, 0.025}, {0.001, 0.152, 0.051}});
}
inline constexpr double centaurea_rate = 0.9961104;

}  // namespace motherbulb::published
