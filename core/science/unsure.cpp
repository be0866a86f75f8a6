#include "core/science/unsure.hpp"

#include <algorithm>
#include <boost/random/gamma_distribution.hpp>
#include <cmath>
#include <numeric>
#include <utility>

#include "core/science/normal.hpp"

namespace motherbulb {
namespace {

constexpr std::uint64_t seed_of_gives = 1000;  // and the number of the method

// The middles of `count` equal parts of 0 to 1, in an order of their own: so few draws would else be rich or poor
// altogether, and for every book alike.
std::vector<double> even_parts(std::size_t count, PhiloxStream& stream) {
  std::vector<double> parts;
  for (std::size_t i = 0; i < count; ++i) parts.push_back((static_cast<double>(i) + 0.5) / static_cast<double>(count));
  for (std::size_t left = count; left > 1; --left) {
    std::swap(parts[left - 1], parts[static_cast<std::size_t>(stream.part() * static_cast<double>(left))]);
  }
  return parts;
}

}  // namespace

std::size_t sets_for(std::size_t clones) {
  constexpr std::size_t least = 8;
  return std::max(least, usual_sets / std::max<std::size_t>(1, clones));
}

double draw_gamma(double shape, PhiloxStream& stream) {
  boost::random::gamma_distribution<double> law(shape);
  return law(stream);
}

double draw_beta(double a, double b, PhiloxStream& stream) {
  if (!(a > 0)) return 0;
  if (!(b > 0)) return 1;
  const double one = draw_gamma(a, stream), other = draw_gamma(b, stream);
  return one + other > 0 ? one / (one + other) : a / (a + b);
}

std::vector<double> draw_dirichlet(const std::vector<double>& weights, PhiloxStream& stream) {
  std::vector<double> shares;
  for (const double weight : weights) shares.push_back(weight > 0 ? draw_gamma(weight, stream) : 0);
  double all = std::accumulate(shares.begin(), shares.end(), 0.0);
  if (!(all > 0)) {
    shares = weights;
    all = std::accumulate(shares.begin(), shares.end(), 0.0);
  }
  if (!(all > 0)) return weights;
  for (double& share : shares) share /= all;
  return shares;
}

std::vector<DrawnGives> draw_gives(Method method, const std::vector<double>& log_means,
                                   const std::vector<double>& log_variances, const BulbletSizes& sizes,
                                   double log_count_ratio, const std::vector<Grade>& grades, std::size_t sets) {
  PhiloxStream stream(seed_of_gives + static_cast<std::uint64_t>(method), 0, 0);
  const std::vector<double> riches = even_parts(sets, stream), sized = even_parts(sets, stream);
  std::vector<DrawnGives> all;
  for (std::size_t set = 0; set < sets; ++set) {
    const double rich = normal_quantile(riches[set]);
    double left = sized[set];
    DrawnGives one;
    for (std::size_t i = 0; i < log_means.size(); ++i) {
      one.per_mother.push_back(std::exp(log_means[i] + std::sqrt(log_variances[i]) * rich));
    }
    BulbletSizes drawn;
    for (const BulbletSizes::Point& point : sizes.points) {
      left -= point.weight;
      if (left > 0 && &point != &sizes.points.back()) continue;
      drawn.points = {{1, point.z, point.r, point.v}};
      break;
    }
    one.size_shares = drawn.shares(log_count_ratio, grades);
    all.push_back(std::move(one));
  }
  return all;
}

}  // namespace motherbulb
