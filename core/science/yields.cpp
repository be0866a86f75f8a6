#include "core/science/yields.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <boost/math/special_functions/erf.hpp>
#include <cmath>
#include <map>
#include <tuple>
#include <utility>

#include "core/science/normal.hpp"
#include "core/science/yield_likelihood.hpp"
#include "core/science/yield_tally.hpp"

namespace motherbulb {
namespace {

using Vector = Eigen::VectorXd;
using Matrix = Eigen::MatrixXd;

constexpr int value_count = 5;
constexpr double root_2 = 1.41421356237309504880;

// Generating vector of Cools, Kuo & Nuyens 2006, for up to 2^20 points; the last moves the clones' lines.
constexpr std::uint64_t lattice[value_count + 1] = {1, 182667, 469891, 498753, 110745, 446247};
constexpr double lattice_shift[value_count + 1] = {0.3711, 0.8289, 0.1573, 0.6427, 0.2891, 0.5309};
constexpr double golden_part = 0.61803398874989485;

constexpr std::uint64_t least_nodes = 1024, most_nodes = 65536;
constexpr std::uint64_t first_pilot = 256, second_pilot = 512;
constexpr double work_at_most = 3e7;  // logarithms in the last pass
constexpr double little_work = 2e7;
constexpr std::size_t asks_at_once = 500;
// In units of the spread at a line's peak. Where many are asked for, so fine that sums are right, and the nodes make
// quantiles smooth; where few are, so fine that the tally's smoothing does (yield_tally.cpp).
constexpr double line_step = 1.3, fine_line_step = 0.65;
// The law of the nodes in units of the ground's spread: logistic, with tails wider than any that the posterior has, so
// that weights fall to nothing at both ends.
constexpr double node_scale = 0.8;

// The five values as numbers: of b, d, f and t as the priors take them for standard normal, of u as what is left of it
// in units of its spread, once the others are given. Of what is known there is none.
class Priors {
public:
  explicit Priors(const YieldPriors& priors) : priors_(priors) {
    const double sds[value_count] = {priors.u.sd, priors.b.sd, priors.d.sd, priors.log_f.sd, priors.t_sd};
    for (int i = 0; i < value_count; ++i) {
      if (sds[i] > 0) unknown_.push_back(i);
    }
    if (priors.b.sd > 0) {
      below_ = normal_chance(-priors.b.mean / priors.b.sd);
      within_ = 1 - below_ - normal_chance((priors.b.mean - 1) / priors.b.sd);
    }
  }
  int unknown() const { return static_cast<int>(unknown_.size()); }

  // The log of the prior's density there, up to a constant.
  double values(const Vector& z, const std::vector<CloneCells>& clones, YieldValues& values) const {
    double all[value_count] = {0, 0, 0, 0, 0};
    for (int i = 0; i < unknown(); ++i) all[unknown_[static_cast<std::size_t>(i)]] = z[i];
    values.b = priors_.b.mean;
    if (priors_.b.sd > 0) values.b += priors_.b.sd * normal_quantile(below_ + within_ * normal_chance(all[1]));
    values.d = priors_.d.mean + priors_.d.sd * all[2];
    values.log_f = priors_.log_f.mean + priors_.log_f.sd * all[3];
    if (priors_.t_sd > 0) values.t = priors_.t_sd * half_normal_quantile(all[4]);
    values.u = priors_.u.mean;
    if (priors_.u.sd <= 0) return -0.5 * z.squaredNorm();
    const Given given = u_given(clones, values);
    values.u = given.mean + given.sd * all[0];
    const double from_prior = (values.u - priors_.u.mean) / priors_.u.sd;
    return -0.5 * (z.squaredNorm() - all[0] * all[0] + from_prior * from_prior) + std::log(given.sd);
  }

  // Of b cut to (0, 1).
  double b_variance() const {
    if (priors_.b.sd <= 0) return 0;
    const double low = -priors_.b.mean / priors_.b.sd, high = (1 - priors_.b.mean) / priors_.b.sd;
    const auto density = [](double z) { return std::exp(-0.5 * z * z) / std::sqrt(2 * 3.14159265358979323846); };
    const double moved = (density(low) - density(high)) / within_;
    const double part = 1 + (low * density(low) - high * density(high)) / within_ - moved * moved;
    return priors_.b.sd * priors_.b.sd * std::max(0.0, part);
  }
  double log_variance(double log_sections, double log_girth) const {
    return priors_.u.sd * priors_.u.sd + priors_.t_sd * priors_.t_sd + b_variance() * log_sections * log_sections +
           priors_.d.sd * priors_.d.sd * log_girth * log_girth;
  }

private:
  // Where u about lies when b, d, f and t are what they are. A clone that is known well holds u the more firmly the
  // smaller t: without this the posterior is a funnel, in which no lattice is even.
  struct Given {
    double mean, sd;
  };
  Given u_given(const std::vector<CloneCells>& clones, const YieldValues& values) const {
    const double f = std::exp(values.log_f);
    double precision = 1 / (priors_.u.sd * priors_.u.sd), sum = 0;
    for (const CloneCells& cells : clones) {
      double bulblets = 0, sections = 0, expected = 0;
      for (const YieldCell& cell : cells) {
        bulblets += cell.bulblets;
        sections += cell.sections;
        expected += cell.sections * std::exp(values.b * cell.log_sections + values.d * cell.log_girth - cell.log_k);
      }
      const double told = bulblets * sections * f / (bulblets + sections * f) + 0.3;
      const double weight = 1 / (values.t * values.t + 1 / told);
      precision += weight;
      sum += weight * (std::log((bulblets + 0.5) / expected) - priors_.u.mean);
    }
    return {priors_.u.mean + sum / precision, 1 / std::sqrt(precision)};
  }

  // The quantile of |Z| at the chance that Z has of z or less.
  static double half_normal_quantile(double z) {
    return z < 0 ? root_2 * boost::math::erf_inv(normal_chance(z))
                 : root_2 * boost::math::erfc_inv(std::max(1e-300, normal_chance(-z)));
  }

  YieldPriors priors_;
  std::vector<int> unknown_;
  double below_ = 0, within_ = 1;
};

// Where the lattice is laid: around a middle in the standard normal numbers, wider than what it stands for.
struct Ground {
  Vector middle;
  Matrix root;  // its square is the covariance
};

struct Asked {
  std::size_t clone;  // behind the last: a new one
  std::int32_t k;
  double log_sections, log_girth;
};

// Sums over the nodes, for one ask.
struct Sums {
  double log_mean = 0, log_square = 0, mean = 0;
  void scale(double times) {
    log_mean *= times;
    log_square *= times;
    mean *= times;
  }
};
struct Spread {
  double mean = 0, sd = 0;
};

class Reckoning {
public:
  Reckoning(const YieldPriors& priors, const std::vector<YieldPot>& pots, const std::vector<YieldAsk>& asks,
            YieldMesh mesh)
      : priors_(priors), dispersion_(pots, priors.log_f) {
    std::map<std::string, std::size_t> numbers;
    gather(pots, numbers);
    for (const YieldAsk& ask : asks) {
      const auto known = ask.clone.empty() ? numbers.end() : numbers.find(ask.clone);
      asked_.push_back({known == numbers.end() ? clones_.size() : known->second, ask.k, log_sections_of(ask.k),
                        log_girth_of(ask.c)});
    }
    lines_.resize(clones_.size() + 1);
    nodes_ = node_count();
    step_ = std::ldexp(nodes_ > most_nodes ? fine_line_step : line_step, -mesh.finer);
    nodes_ <<= mesh.finer;
    any_pots_ = !pots.empty();
  }

  std::vector<YieldAnswer> answers(const std::function<bool(double)>& go_on) {
    Ground ground = at_the_mode();
    // Few nodes lay a crooked ground, on which many more are wasted.
    for (const std::uint64_t pilot : {first_pilot, std::max(second_pilot, nodes_ / 16)}) {
      if (go_on && !go_on(pilot == first_pilot ? 0.1 : 0.2)) return {};
      ground = moved(ground, pilot);
    }
    std::vector<YieldAnswer> all;
    for (std::size_t from = 0; from < asked_.size(); from += asks_at_once) {
      const std::size_t to = std::min(asked_.size(), from + asks_at_once);
      const auto goes_on = [&](double part) {
        const double done = static_cast<double>(from) + part * static_cast<double>(to - from);
        return !go_on || go_on(0.3 + 0.7 * done / static_cast<double>(asked_.size()));
      };
      if (!answer(ground, from, to, goes_on, all)) return {};
    }
    return all;
  }

private:
  void gather(const std::vector<YieldPot>& pots, std::map<std::string, std::size_t>& numbers) {
    std::map<std::tuple<std::string, std::int32_t, double>, YieldCell> cells;
    for (const YieldPot& pot : pots) {
      YieldCell& cell = cells[{pot.clone, pot.k, pot.c}];
      cell.bulblets += static_cast<double>(pot.y);
      cell.sections += static_cast<double>(pot.s);
    }
    for (auto& [key, cell] : cells) {
      const auto& [name, k, c] = key;
      cell.log_sections = log_sections_of(k);
      cell.log_girth = log_girth_of(c);
      cell.log_k = std::log(static_cast<double>(k));
      const auto [at, added] = numbers.emplace(name, clones_.size());
      if (added) clones_.emplace_back();
      clones_[at->second].push_back(cell);
      ++cell_count_;
    }
  }

  std::uint64_t node_count() const {
    const double work = 10.0 * static_cast<double>(cell_count_ + clones_.size()) +
                        12.0 * static_cast<double>(std::min(asked_.size(), asks_at_once)) + 20;
    std::uint64_t nodes = least_nodes;
    while (nodes < most_nodes && 2 * static_cast<double>(nodes) * work <= work_at_most) nodes *= 2;
    // Where little is asked, once more: the ends of the clone's mean need it to be right to 1e-3.
    if (nodes == most_nodes && 2 * static_cast<double>(nodes) * work <= little_work) nodes *= 2;
    return nodes;
  }

  // The log of the posterior's density, up to a constant; lays the clones' lines.
  double log_density(const Vector& z, double shift) {
    double density = priors_.values(z, clones_, values_) + dispersion_.at(values_.log_f);
    for (std::size_t i = 0; i < clones_.size(); ++i) {
      lines_[i].lay(clones_[i], values_, step_, line_shift(shift, i));
      density += lines_[i].log_integral;
    }
    return density;
  }
  static double line_shift(double shift, std::uint64_t which) {
    const double moved = shift + golden_part * static_cast<double>(which);
    return moved - std::floor(moved);
  }
  double log_density(const Vector& z) { return log_density(z, 0.5); }

  // Slope and curvature by differences, steps in parts of the spread.
  void differences(const Vector& z, const Vector& steps, double here, Vector& slope, Matrix& curvature) {
    const int n = priors_.unknown();
    Vector up(n), down(n);
    const auto at = [&](int i, double a, int j, double b) {
      Vector moved = z;
      moved[i] += a;
      if (j >= 0) moved[j] += b;
      return log_density(moved);
    };
    for (int i = 0; i < n; ++i) {
      up[i] = at(i, steps[i], -1, 0);
      down[i] = at(i, -steps[i], -1, 0);
      slope[i] = (up[i] - down[i]) / (2 * steps[i]);
      curvature(i, i) = -(up[i] - 2 * here + down[i]) / (steps[i] * steps[i]);
    }
    for (int i = 0; i < n; ++i) {
      for (int j = 0; j < i; ++j) {
        const double both = at(i, steps[i], j, steps[j]);
        curvature(i, j) = curvature(j, i) = -(both - up[i] - up[j] + here) / (steps[i] * steps[j]);
      }
    }
  }

  // Newton's steps to the posterior's peak, and the normal law that fits it there.
  Ground at_the_mode() {
    constexpr double least_curvature = 0.3, longest_move = 2;
    const int n = priors_.unknown();
    Vector z = Vector::Zero(n), steps = Vector::Constant(n, 0.1), slope(n);
    Matrix curvature(n, n), covariance = Matrix::Identity(n, n);
    double here = log_density(z);
    for (int round = 0; round < 30 && n > 0; ++round) {
      differences(z, steps, here, slope, curvature);
      Eigen::SelfAdjointEigenSolver<Matrix> eigen(curvature);
      const Vector held = eigen.eigenvalues().cwiseAbs().cwiseMax(least_curvature);
      covariance = eigen.eigenvectors() * held.cwiseInverse().asDiagonal() * eigen.eigenvectors().transpose();
      for (int i = 0; i < n; ++i) steps[i] = std::min(0.3, 0.3 * std::sqrt(covariance(i, i)));
      Vector move = covariance * slope;
      const double promised = slope.dot(move);
      if (move.norm() > longest_move) move *= longest_move / move.norm();
      if (promised < 0.02 && round > 0) break;
      bool better = false;
      for (int halving = 0; halving < 12 && !better; ++halving) {
        const double there = log_density(z + move);
        better = there > here;
        if (better) {
          z += move;
          here = there;
        }
        move *= 0.5;
      }
      if (!better && round > 2) break;
    }
    return {z, wider(covariance, 1.4)};
  }

  static Matrix wider(const Matrix& covariance, double times) {
    if (covariance.size() == 0) return covariance;
    Eigen::SelfAdjointEigenSolver<Matrix> eigen(covariance);
    return times * eigen.eigenvectors() * eigen.eigenvalues().cwiseMax(1e-12).cwiseSqrt().asDiagonal();
  }

  // Calls `use` with each node of the lattice and the log of its weight.
  template <class Use>
  bool for_each_node(const Ground& ground, std::uint64_t nodes, Use use) {
    const int n = priors_.unknown();
    Vector apart(n);
    for (std::uint64_t i = 0; i < nodes; ++i) {
      double place[value_count + 1];
      for (int j = 0; j <= value_count; ++j) {
        const double at = static_cast<double>(i * lattice[j] % nodes) / static_cast<double>(nodes) + lattice_shift[j];
        place[j] = at - std::floor(at);
      }
      double log_law = 0;
      for (int j = 0; j < n; ++j) {
        const double part = std::min(1 - 1e-16, std::max(1e-300, place[j]));
        apart[j] = node_scale * (std::log(part) - std::log1p(-part));
        log_law += std::log(part) + std::log1p(-part);
      }
      const Vector z = ground.middle + ground.root * apart;
      const double density = log_density(z, place[value_count]);
      if (!use(i, z, density - log_law)) return false;
    }
    return true;
  }

  const CloneLine& line_of(const Asked& ask) const { return lines_[ask.clone]; }
  void lay_new_line(std::uint64_t node) {
    static const CloneCells none;
    lines_.back().lay(none, values_, step_, line_shift(0, node));
  }

  // Weighted sums over a few nodes, held against the heaviest so far.
  struct Pilot {
    Pilot(int unknown, std::size_t asks)
        : middle(Vector::Zero(unknown)), second(Matrix::Zero(unknown, unknown)), asked(asks) {}
    // The weight of a node beside the heaviest, which it may be itself.
    double weigh(double log_weight) {
      if (log_weight > heaviest) {
        const double less = std::exp(heaviest - log_weight);
        heaviest = log_weight;
        all *= less;
        squares *= less * less;
        middle *= less;
        second *= less;
        log_f.scale(less);
        for (Sums& one : asked) one.scale(less);
      }
      const double weight = std::exp(log_weight - heaviest);
      all += weight;
      squares += weight * weight;
      return weight;
    }
    double heaviest = -1e300, all = 0, squares = 0;
    Vector middle;
    Matrix second;
    Sums log_f;
    std::vector<Sums> asked;
  };

  // The ground as the weights of a few nodes have it, and where each ask lies.
  Ground moved(const Ground& ground, std::uint64_t nodes) {
    const int n = priors_.unknown();
    Pilot pilot(n, asked_.size());
    for_each_node(ground, nodes, [&](std::uint64_t i, const Vector& z, double log_weight) {
      const double weight = pilot.weigh(log_weight);
      const Vector apart = z - ground.middle;
      pilot.middle += weight * apart;
      pilot.second += weight * apart * apart.transpose();
      pilot.log_f.log_mean += weight * values_.log_f;
      pilot.log_f.log_square += weight * values_.log_f * values_.log_f;
      lay_new_line(i);
      for (std::size_t a = 0; a < asked_.size(); ++a) add_log(asked_[a], weight, pilot.asked[a]);
      return true;
    });
    heaviest_ = pilot.heaviest;
    log_means_.clear();
    for (const Sums& one : pilot.asked) log_means_.push_back(spread_of(one, pilot.all));
    log_f_ = spread_of(pilot.log_f, pilot.all);
    const Vector apart = pilot.middle / pilot.all;
    // Too few nodes that count tell no covariance.
    const double worth = pilot.all * pilot.all / pilot.squares;
    if (worth < 20.0 * n) return {ground.middle + apart, ground.root};
    const Matrix covariance = pilot.second / pilot.all - apart * apart.transpose();
    return {ground.middle + apart, wider(covariance, 1.25)};
  }
  static Spread spread_of(const Sums& sums, double all) {
    const double mean = sums.log_mean / all;
    return {mean, std::sqrt(std::max(0.0, sums.log_square / all - mean * mean))};
  }
  double level_of(const Asked& ask) const { return values_.log_mean(ask.log_sections, ask.log_girth); }
  void add_log(const Asked& ask, double weight, Sums& sums) const {
    const CloneLine& line = line_of(ask);
    const double level = level_of(ask);
    sums.log_mean += weight * (level + line.mean);
    sums.log_square += weight * (level * level + 2 * level * line.mean + line.mean_square);
  }

  template <class GoOn>
  bool answer(const Ground& ground, std::size_t from, std::size_t to, GoOn go_on, std::vector<YieldAnswer>& all) {
    std::vector<YieldTally> tallies;
    std::vector<Sums> sums(to - from);
    double sum = 0, of_f = 0;
    const YieldBins log_fs = YieldBins::around(log_f_.mean, log_f_.sd, 4.5, 16);
    for (std::size_t a = from; a < to; ++a) {
      tallies.emplace_back(YieldBins::around(log_means_[a].mean, log_means_[a].sd, 8, 384), log_fs);
    }
    const bool whole = for_each_node(ground, nodes_, [&](std::uint64_t i, const Vector&, double log_weight) {
      if (i % 256 == 0 && !go_on(static_cast<double>(i) / static_cast<double>(nodes_))) return false;
      const double weight = std::exp(std::min(200.0, log_weight - heaviest_));
      sum += weight;
      of_f += weight * std::exp(values_.log_f);
      lay_new_line(i);
      for (std::size_t a = from; a < to; ++a) {
        const Asked& ask = asked_[a];
        const CloneLine& line = line_of(ask);
        const double level = level_of(ask);
        add_log(ask, weight, sums[a - from]);
        sums[a - from].mean += weight * std::exp(level) * line.mean_exp;
        tallies[a - from].add(weight, values_.log_f, level, line.first, line.step, line.count, line.weights());
      }
      return true;
    });
    if (!whole) return false;
    for (std::size_t a = from; a < to; ++a) {
      all.push_back(answer_of(asked_[a], sums[a - from], tallies[a - from], sum));
      all.back().f = of_f / sum;
    }
    return true;
  }

  YieldAnswer answer_of(const Asked& ask, const Sums& sums, const YieldTally& tally, double all) const {
    YieldAnswer answer;
    const Spread spread = spread_of(sums, all);
    answer.log_mean = spread.mean;
    answer.log_variance = spread.sd * spread.sd;
    answer.clone_mean = {sums.mean / all, tally.mean_quantile(0.05), tally.mean_quantile(0.95)};
    answer.per_mother.mean = answer.clone_mean.mean;
    tally.next_mother(ask.k, answer.per_mother);
    const double before = priors_.log_variance(ask.log_sections, ask.log_girth);
    if (any_pots_ && before > 0) {
      answer.from_records = std::min(1.0, std::max(0.0, 1 - answer.log_variance / before));
    }
    return answer;
  }

  Priors priors_;
  DispersionTerm dispersion_;
  std::vector<CloneCells> clones_;
  std::size_t cell_count_ = 0;
  std::vector<Asked> asked_;
  std::vector<CloneLine> lines_;  // of the clones, then of a new one
  YieldValues values_;            // of the node looked at
  double step_ = line_step;
  std::uint64_t nodes_ = least_nodes;
  bool any_pots_ = false;
  double heaviest_ = 0;  // log weight of the pilot's heaviest node
  std::vector<Spread> log_means_;
  Spread log_f_;
};

std::optional<std::string> fault_of(const char* name, const NormalPrior& prior, double least, double most,
                                    double most_sd) {
  const std::string at = std::string("priors.") + name;
  if (!(prior.mean >= least && prior.mean <= most))
    return at + ".mean: is out of range; write a smaller or a larger one";
  if (!(prior.sd >= 0)) return at + ".sd: is negative; write 0 or more";
  if (!(prior.sd <= most_sd)) return at + ".sd: is so wide that it says nothing; write less";
  return std::nullopt;
}

}  // namespace

std::optional<std::string> fault_of(const YieldPriors& priors) {
  if (auto fault = fault_of("u", priors.u, -20, 20, 2)) return fault;
  if (auto fault = fault_of("b", priors.b, 0, priors.b.sd > 0 ? 1 : 2, 2)) return fault;
  if (auto fault = fault_of("d", priors.d, -20, 20, 2)) return fault;
  if (auto fault = fault_of("log_f", priors.log_f, -7, 12, 1.5)) return fault;
  return fault_of("t", NormalPrior{0, priors.t_sd}, 0, 0, 0.9);
}

std::vector<YieldAnswer> yields(const YieldPriors& priors, const std::vector<YieldPot>& pots,
                                const std::vector<YieldAsk>& asks, YieldMesh mesh,
                                const std::function<bool(double)>& go_on) {
  if (asks.empty()) return {};
  return Reckoning(priors, pots, asks, mesh).answers(go_on);
}

}  // namespace motherbulb
