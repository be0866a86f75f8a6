#include "core/science/plan_solver.hpp"

#include <glpk.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <memory>
#include <queue>

#include "core/science/plan_programme.hpp"

namespace motherbulb {
namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double near_whole = 1e-6;        // bulbs
constexpr double same_goal = 4e-10;        // part of a goal by which ties may fall short of it
constexpr double worth_searching = 2e-10;  // part of a goal that a better plan must win
constexpr double target_margin = 2e-9;     // so that a target which is just met is not missed by a last bit
constexpr double target_rounding = 1e-9;
constexpr double costs_something = 2e-9;   // a column or row that cannot move without cost, of costs near 1
constexpr double gap_that_will_do = 0.01;  // beyond it the search ends when its work is done; above it, it goes on
constexpr double far_from_one_size = 64;   // columns or costs so much smaller than they should be are scaled anew
constexpr double holds_to = 1e-7;          // what a plan may pass a limit by; beyond, its numbers are too far apart
constexpr double agrees = 4e-9;            // of the goal's worth, between the solver and the acts as they come out
constexpr double adds_up_to = 1e-7;        // part of a row by which it may differ from its cells' sum
constexpr double beyond_measure = 1e6;
constexpr int steps_between_questions = 1000;

enum class State { solved, infeasible, cut_off, stopped, broken };

struct Basis {
  std::vector<unsigned char> rows, columns;
};

// A linear programme in GLPK's hands, made least; and the basis it stands at.
class Simplex {
public:
  Simplex(const PlanProgramme& programme, const std::function<bool(double)>& go_on)
      : programme_(programme), go_on_(go_on), problem_(glp_create_prob()) {
    glp_term_out(GLP_OFF);
    glp_set_obj_dir(problem_.get(), GLP_MIN);
    if (!programme.columns.empty()) glp_add_cols(problem_.get(), static_cast<int>(programme.columns.size()));
    for (std::size_t j = 0; j < programme.columns.size(); ++j) set_bounds(j, 0, infinite);
    for (const PlanRow& row : programme.rows) add_row(row);
    glp_scale_prob(problem_.get(), GLP_SF_GM | GLP_SF_EQ | GLP_SF_2N);
    tolerance_ = std::min(1e-6, 1e-9 * std::max(1.0, programme.most_bulbs / 1e3));
  }

  void add_row(const PlanRow& row) {
    const int i = glp_add_rows(problem_.get(), 1);
    const int type = row.kind == PlanRow::Kind::balance ? GLP_FX : row.kind == PlanRow::Kind::at_most ? GLP_UP : GLP_LO;
    glp_set_row_bnds(problem_.get(), i, type, row.bound, row.bound);
    std::vector<int> index(1, 0);
    std::vector<double> number(1, 0.0);
    for (const auto& [column, cell] : row.cells) {
      index.push_back(static_cast<int>(column) + 1);
      number.push_back(cell);
    }
    glp_set_mat_row(problem_.get(), i, static_cast<int>(row.cells.size()), index.data(), number.data());
    glp_set_row_stat(problem_.get(), i, GLP_BS);
  }

  void set_cost(const PlanCost& cost) {
    for (std::size_t j = 0; j < cost.cells.size(); ++j) {
      glp_set_obj_coef(problem_.get(), static_cast<int>(j) + 1, cost.cells[j]);
    }
  }
  void set_bounds(std::size_t column, double low, double high) {
    const int type = high == infinite ? GLP_LO : (low == high ? GLP_FX : GLP_DB);
    glp_set_col_bnds(problem_.get(), static_cast<int>(column) + 1, type, low, high);
  }

  // Stands at the best acts there would be without limits: one act of each class and season, found backwards from the
  // last (Bellman 1957). No cost can fall from there, so the dual simplex has only to bring back what passes a limit.
  // False where those acts would pass a limit beyond all measure: then it stands at none, for the primal simplex.
  bool stand_at_best_policy(const PlanCost& cost) {
    std::vector<std::vector<std::pair<std::size_t, double>>> gives(programme_.columns.size());
    for (std::size_t i = 0; i < programme_.balances; ++i) {
      for (const auto& [column, cell] : programme_.rows[i].cells) {
        if (cell < 0) gives[column].push_back({i, -cell});
      }
    }
    for (std::size_t j = 0; j < gives.size(); ++j) glp_set_col_stat(problem_.get(), static_cast<int>(j) + 1, GLP_NL);
    std::vector<double> value(programme_.balances, 0.0);
    std::vector<std::size_t> policy(programme_.balances, no_act);
    for (std::size_t i = programme_.balances; i-- > 0;) {
      std::size_t best = no_act;
      for (const std::size_t j : programme_.of_balance[i]) {
        double sum = cost.cells[j];
        for (const auto& [row, mean] : gives[j]) sum += mean * value[row];
        if (best == no_act || sum < value[i]) {
          value[i] = sum;
          best = j;
        }
      }
      glp_set_row_stat(problem_.get(), static_cast<int>(i) + 1, best == no_act ? GLP_BS : GLP_NS);
      if (best != no_act) glp_set_col_stat(problem_.get(), static_cast<int>(best) + 1, GLP_BS);
      policy[i] = best;
    }
    for (std::size_t i = programme_.balances; i < row_count(); ++i) {
      glp_set_row_stat(problem_.get(), static_cast<int>(i) + 1, GLP_BS);
    }
    std::vector<double> bulbs;
    for (std::size_t i = 0; i < programme_.balances; ++i) bulbs.push_back(programme_.rows[i].bound);
    for (std::size_t i = 0; i < programme_.balances; ++i) {
      if (bulbs[i] > beyond_measure * programme_.most_bulbs) {
        glp_std_basis(problem_.get());
        return false;
      }
      if (policy[i] == no_act) continue;
      for (const auto& [row, mean] : gives[policy[i]]) bulbs[row] += mean * bulbs[i];
    }
    return true;
  }

  Basis basis() const {
    Basis found;
    for (std::size_t i = 1; i <= row_count(); ++i) {
      found.rows.push_back(static_cast<unsigned char>(glp_get_row_stat(problem_.get(), static_cast<int>(i))));
    }
    for (std::size_t j = 1; j <= programme_.columns.size(); ++j) {
      found.columns.push_back(static_cast<unsigned char>(glp_get_col_stat(problem_.get(), static_cast<int>(j))));
    }
    return found;
  }
  void stand_at(const Basis& basis) {
    for (std::size_t i = 0; i < basis.rows.size(); ++i) {
      glp_set_row_stat(problem_.get(), static_cast<int>(i) + 1, basis.rows[i]);
    }
    for (std::size_t j = 0; j < basis.columns.size(); ++j) {
      glp_set_col_stat(problem_.get(), static_cast<int>(j) + 1, basis.columns[j]);
    }
  }

  // From where it stands. `cut_off`: it is known to cost that much or more, and was not followed further.
  State solve(bool dual, double cut_off = infinite) {
    ++solved_;
    const State first = steps(dual, cut_off);
    if (first != State::broken) return first;
    glp_std_basis(problem_.get());
    const State second = steps(false, infinite);
    if (second != State::broken) return second;
    glp_adv_basis(problem_.get(), 0);
    return steps(true, infinite);
  }

  double cost() const { return glp_get_obj_val(problem_.get()); }
  std::vector<double> units() const {
    std::vector<double> found;
    for (std::size_t j = 1; j <= programme_.columns.size(); ++j) {
      found.push_back(glp_get_col_prim(problem_.get(), static_cast<int>(j)));
    }
    return found;
  }
  // Keeps it where the present cost is least: what would cost more if it moved is held where it is. What is made least
  // after that takes nothing from it, to the last bit.
  void stay_at_least_cost() {
    for (int j = 1; j <= glp_get_num_cols(problem_.get()); ++j) {
      if (glp_get_col_stat(problem_.get(), j) == GLP_BS) continue;
      if (std::fabs(glp_get_col_dual(problem_.get(), j)) < costs_something) continue;
      const double here = glp_get_col_prim(problem_.get(), j);
      glp_set_col_bnds(problem_.get(), j, GLP_FX, here, here);
    }
    for (int i = 1; i <= glp_get_num_rows(problem_.get()); ++i) {
      if (glp_get_row_stat(problem_.get(), i) == GLP_BS) continue;
      if (std::fabs(glp_get_row_dual(problem_.get(), i)) < costs_something) continue;
      const double here = glp_get_row_prim(problem_.get(), i);
      glp_set_row_bnds(problem_.get(), i, GLP_FX, here, here);
    }
  }
  double unit_of(std::size_t column) const { return glp_get_col_prim(problem_.get(), static_cast<int>(column) + 1); }
  std::size_t solved() const { return solved_; }
  const PlanProgramme& programme() const { return programme_; }

private:
  std::size_t row_count() const { return static_cast<std::size_t>(glp_get_num_rows(problem_.get())); }

  // What a basis gives on paper is what its rows come to. With cells as far apart as a bulb of this season and its
  // bulblets' bulblets of the last, GLPK now and then calls a solution best whose rows do not.
  bool adds_up() const {
    double most = 0, share = 0;
    int row = 0, row_of_share = 0;
    glp_check_kkt(problem_.get(), GLP_SOL, GLP_KKT_PE, &most, &row, &share, &row_of_share);
    return share <= adds_up_to;
  }

  State steps(bool dual, double cut_off) {
    glp_smcp how;
    glp_init_smcp(&how);
    how.msg_lev = GLP_MSG_OFF;
    how.meth = dual ? GLP_DUALP : GLP_PRIMAL;
    how.tol_bnd = tolerance_;
    how.tol_dj = 1e-9;
    how.it_lim = steps_between_questions;
    if (cut_off < infinite) how.obj_ul = cut_off;
    // A simplex that takes many times the steps that there are columns goes round in circles.
    const int rounds = 5 + 10 * (glp_get_num_cols(problem_.get()) + glp_get_num_rows(problem_.get())) / how.it_lim;
    for (int round = 0; round < rounds; ++round) {
      const int code = glp_simplex(problem_.get(), &how);
      if (code == GLP_EOBJUL) return State::cut_off;
      if (code != 0 && code != GLP_EITLIM) return State::broken;
      if (code == 0) {
        const int status = glp_get_status(problem_.get());
        if (status == GLP_OPT) return adds_up() ? State::solved : State::broken;
        return status == GLP_NOFEAS || glp_get_prim_stat(problem_.get()) == GLP_NOFEAS ? State::infeasible
                                                                                       : State::broken;
      }
      if (go_on_ && !go_on_(0.2)) return State::stopped;
    }
    return State::broken;
  }

  struct Delete {
    void operator()(glp_prob* problem) const { glp_delete_prob(problem); }
  };
  const PlanProgramme& programme_;
  const std::function<bool(double)>& go_on_;
  std::unique_ptr<glp_prob, Delete> problem_;
  double tolerance_ = 1e-9;
  std::size_t solved_ = 0;
};

struct Solution {
  std::vector<double> units;
  double cost = infinite;
  Basis basis;
  bool found() const { return cost < infinite; }
};

struct Found {
  State state = State::broken;
  Solution best;
  double bound = -infinite;  // nothing costs less
  bool proven = false;
};

// How long to search.
struct Effort {
  double enough = -infinite;  // a cost that ends the search when it is reached
  std::size_t solves = 0;     // of linear programmes while the gap will do
  std::size_t at_most = 0;    // in any case
  double of_use = infinite;   // what costs more is not looked for
};

// Branch and bound over the whole columns (Land & Doig 1960), the best bound first; branches on the column whose
// parting moves the bound most (pseudo-costs, begun by trying: Achterberg, Koch & Martin 2005).
class Search {
public:
  Search(Simplex& simplex, const std::function<bool(double)>& go_on, Effort effort)
      : simplex_(simplex), go_on_(go_on), effort_(effort), begun_at_(simplex.solved()) {
    const auto& columns = simplex.programme().columns;
    for (std::size_t j = 0; j < columns.size() && columns[j].season == 1; ++j) {
      if (!columns[j].lacking) whole_.push_back(j);
    }
    gains_.resize(whole_.size());
  }

  // From a basis that `solve(dual)` can begin with. `known` is a solution that holds already.
  Found run(bool dual, Solution known = {}) {
    best_ = std::move(known);
    Node root;
    for (const std::size_t j : whole_) root.bounds.push_back({0, simplex_.programme().columns[j].most});
    take(root.bounds);
    const State state = simplex_.solve(dual);
    if (state != State::solved) return {state, best_, -infinite, false};
    note(root);
    const double relaxed = root.bound;
    if (relaxed > effort_.of_use) return {State::infeasible, best_, relaxed, true};
    if (!consider(root)) {
      dive(root);
      open_.push(std::move(root));
      branch_all();
    }
    take_whole_bounds();
    double bound = open_.empty() ? best_.cost : std::min(best_.cost, open_.top().bound);
    if (lost_ < infinite) bound = std::min(bound, lost_);
    if (!best_.found() && open_.empty() && !stopped_ && !broken_) return {State::infeasible, best_, bound, true};
    const bool proven = best_.found() && bound >= cut_off();
    const State ended = best_.found() ? State::solved : (stopped_ ? State::stopped : State::broken);
    return {ended, best_, std::max(relaxed, std::min(bound, best_.cost)), proven};
  }
  bool stopped() const { return stopped_; }

private:
  struct Bounds {
    double low, high;
  };
  struct Node {
    std::vector<Bounds> bounds;  // of the whole columns
    std::vector<double> values;  // of them, in the relaxation
    std::shared_ptr<const Basis> basis;
    double bound = -infinite;
    std::size_t born = 0;
  };
  struct Later {
    bool operator()(const Node& a, const Node& b) const {
      return a.bound != b.bound ? a.bound > b.bound : a.born > b.born;
    }
  };
  // What a step of one whole bulb cost, on either side.
  struct Gains {
    double sum[2] = {0, 0};
    int tries[2] = {0, 0};
  };
  struct Children {
    std::optional<Node> side[2];
    double gain[2] = {0, 0};
  };

  void take(const std::vector<Bounds>& bounds) {
    for (std::size_t i = 0; i < whole_.size(); ++i) simplex_.set_bounds(whole_[i], bounds[i].low, bounds[i].high);
  }
  void take_whole_bounds() {
    for (const std::size_t j : whole_) simplex_.set_bounds(j, 0, simplex_.programme().columns[j].most);
  }

  void note(Node& node) {
    node.values.clear();
    for (const std::size_t j : whole_) node.values.push_back(simplex_.unit_of(j));
    node.basis = std::make_shared<const Basis>(simplex_.basis());
    node.bound = std::max(node.bound, simplex_.cost());
    node.born = ++born_;
  }

  static double off_whole(double value) { return std::fabs(value - std::round(value)); }
  double cut_off() const {
    return best_.found() ? best_.cost - worth_searching * std::fabs(best_.cost) - 1e-12 : effort_.of_use;
  }

  // True where the node's relaxation is whole, and so all there is to it. The simplex stands at it.
  bool consider(const Node& node) {
    for (const double value : node.values) {
      if (off_whole(value) > near_whole) return false;
    }
    std::vector<Bounds> exact;
    for (const double value : node.values) exact.push_back({std::round(value), std::round(value)});
    take(exact);
    const State state = simplex_.solve(true);
    if (state == State::stopped) stopped_ = true;
    if (state == State::solved) keep();
    // What the relaxation promised and whole numbers do not keep: the solver's rounding.
    const double promised = node.bound + target_rounding * std::fabs(node.bound) + 1e-12;
    if (state != State::solved || simplex_.cost() > promised) lost_ = std::min(lost_, node.bound);
    return true;
  }
  void keep() {
    if (simplex_.cost() < best_.cost) best_ = {simplex_.units(), simplex_.cost(), simplex_.basis()};
  }

  // Rounds one column after the other, the nearest to a whole number first, and solves anew.
  void dive(const Node& from) {
    Node node = from;
    simplex_.stand_at(*from.basis);
    for (std::size_t round = 0; round < 4 * whole_.size() + 8; ++round) {
      if (!ask()) return;
      std::size_t nearest = whole_.size();
      for (std::size_t i = 0; i < whole_.size(); ++i) {
        const double off = off_whole(node.values[i]);
        if (off > near_whole && (nearest == whole_.size() || off < off_whole(node.values[nearest]))) nearest = i;
      }
      if (nearest == whole_.size()) {
        consider(node);
        return;
      }
      const double value = node.values[nearest];
      const Bounds before = node.bounds[nearest];
      const bool up_first = std::round(value) > value;
      State state = State::infeasible;
      for (const bool up : {up_first, !up_first}) {
        node.bounds[nearest] = up ? Bounds{std::ceil(value), before.high} : Bounds{before.low, std::floor(value)};
        take(node.bounds);
        state = simplex_.solve(true);
        if (state != State::infeasible) break;
      }
      if (state == State::stopped) stopped_ = true;
      if (state != State::solved) return;
      node.values.clear();
      for (const std::size_t j : whole_) node.values.push_back(simplex_.unit_of(j));
      node.bound = simplex_.cost();
    }
  }

  bool ask() {
    if (!stopped_ && go_on_ && !go_on_(0.3)) stopped_ = true;
    return !stopped_;
  }

  bool search_on() {
    if (open_.empty() || best_.cost <= effort_.enough || !ask()) return false;
    const std::size_t solves = simplex_.solved() - begun_at_;
    if (solves > effort_.at_most) return false;
    const bool will_do = best_.found() && best_.cost - open_.top().bound <= gap_that_will_do * std::fabs(best_.cost);
    return !will_do || solves <= effort_.solves;
  }

  void branch_all() {
    std::size_t branched = 0;
    while (search_on()) {
      if (open_.top().bound >= cut_off()) return;
      const Node node = open_.top();
      open_.pop();
      // A dive now and then: often while nothing is found.
      if (++branched % (best_.found() ? 64 : 8) == 0) dive(node);
      branch(node);
    }
  }

  void branch(const Node& node) {
    std::size_t chosen = whole_.size();
    double best_score = -1;
    std::optional<Children> tried, chosen_children;
    int trials = 0;
    for (std::size_t i = 0; i < whole_.size(); ++i) {
      const double off = off_whole(node.values[i]);
      if (off <= near_whole) continue;
      const Gains& gains = gains_[i];
      const double part = node.values[i] - std::floor(node.values[i]);
      double expected[2] = {gains.sum[0] / std::max(1, gains.tries[0]) * part,
                            gains.sum[1] / std::max(1, gains.tries[1]) * (1 - part)};
      tried.reset();
      if ((gains.tries[0] < 2 || gains.tries[1] < 2) && trials < 10) {
        ++trials;
        tried = children_of(node, i);
        if (stopped_) return drop(node);
        for (int side = 0; side < 2; ++side) expected[side] = tried->gain[side];
      }
      const double score = std::max(expected[0], 1e-12) * std::max(expected[1], 1e-12);
      if (score > best_score) {
        best_score = score;
        chosen = i;
        chosen_children = tried;
      }
    }
    if (chosen == whole_.size()) return drop(node);
    if (!chosen_children) chosen_children = children_of(node, chosen);
    if (stopped_) return drop(node);
    for (std::optional<Node>& child : chosen_children->side) {
      if (child && child->bound < cut_off()) open_.push(std::move(*child));
    }
  }
  void drop(const Node& node) { lost_ = std::min(lost_, node.bound); }

  Children children_of(const Node& node, std::size_t i) {
    Children children;
    const double value = node.values[i];
    for (int side = 0; side < 2 && !stopped_; ++side) {
      Node child;
      child.bounds = node.bounds;
      child.bound = node.bound;
      (side == 0 ? child.bounds[i].high : child.bounds[i].low) = side == 0 ? std::floor(value) : std::ceil(value);
      simplex_.stand_at(*node.basis);
      take(child.bounds);
      const State state = simplex_.solve(true, cut_off());
      const double step = side == 0 ? value - std::floor(value) : std::ceil(value) - value;
      children.gain[side] = best_.found() ? best_.cost - node.bound : std::fabs(node.bound);
      if (state == State::stopped) stopped_ = true;
      if (state == State::broken) {
        broken_ = true;
        drop(node);
      }
      if (state != State::solved) continue;
      note(child);
      children.gain[side] = child.bound - node.bound;
      gains_[i].sum[side] += children.gain[side] / step;
      ++gains_[i].tries[side];
      if (!consider(child)) children.side[side] = std::move(child);
    }
    return children;
  }

  Simplex& simplex_;
  const std::function<bool(double)>& go_on_;
  Effort effort_;
  std::size_t begun_at_;
  std::vector<std::size_t> whole_;  // columns
  std::vector<Gains> gains_;
  std::priority_queue<Node, std::vector<Node>, Later> open_;
  Solution best_;
  double lost_ = infinite;  // the least bound of a node that could not be followed
  std::size_t born_ = 0;
  bool stopped_ = false, broken_ = false;
};

class Planner {
public:
  Planner(const PlanTask& task, const std::function<bool(double)>& go_on) : task_(task), go_on_(go_on) {}

  Result<Plan> plan() {
    if (task_.goal.kind == PlanGoalKind::fewest_seasons_to) return fewest_seasons();
    const auto [programme, goal] = well_scaled(task_.seasons, false, [this](const auto& one) { return goal_of(one); });
    Simplex simplex(programme, go_on_);
    Found found = search_goal(simplex, goal, effort(programme));
    if (found.state == State::infeasible) return what_is_in_the_way(task_.seasons);
    if (found.state == State::stopped) return nothing_found();
    if (found.state != State::solved) return too_far_apart();
    const double gap = found.proven ? 0.0 : gap_of(found);
    const Solution first = found.best;
    break_ties(simplex, goal, found);
    return answer(programme, {found.best.units, first.units}, -first.cost * goal.unit, task_.seasons, gap);
  }

private:
  PlanCost goal_of(const PlanProgramme& programme) const {
    return task_.goal.kind == PlanGoalKind::most_money ? cost_of_money(task_, programme)
                                                       : cost_of_saleable(task_, programme);
  }

  // In linear programmes, each of which takes about the square of its size: at most a second or so, and for many clones
  // at once no more than finding a plan takes.
  static Effort effort(const PlanProgramme& programme) {
    const double size = 1e3 + static_cast<double>(programme.cells);
    const double smaller = 5e3 / size;
    const double solves = std::min(2e5, 4e3 * smaller * smaller * std::sqrt(smaller));
    return {-infinite, static_cast<std::size_t>(solves), static_cast<std::size_t>(std::min(5e4, 100 * solves))};
  }
  static double gap_of(const Found& found) {
    const double missing = std::max(0.0, found.best.cost - found.bound);
    const double whole = found.best.cost != 0 ? std::fabs(found.best.cost) : std::fabs(found.bound);
    return whole > 0 ? missing / whole : 0.0;
  }

  // Of those as good by the goal (or, where `reach` is a goal's cost to reach, of those that reach it): fewer hours,
  // then fewer bulbs cut, then the order of the acts. Where it is not proven that none is better, season 1 stays as it
  // was found.
  void break_ties(Simplex& simplex, const PlanCost& goal, Found& found, std::optional<double> reach = {}) {
    const PlanProgramme& programme = simplex.programme();
    std::vector<PlanCost> costs;
    for (PlanCost cost :
         {cost_of_hours(task_, programme), cost_of_cutting(task_, programme), cost_of_order(task_, programme)}) {
      if (std::any_of(cost.cells.begin(), cost.cells.end(), [](double cell) { return cell != 0; })) {
        costs.push_back(std::move(cost));
      }
    }
    if (found.proven) hold(simplex, goal, reach.value_or(found.best.cost));
    for (std::size_t i = 0; i < costs.size() && found.proven && !stopped_; ++i) {
      simplex.set_cost(costs[i]);
      settle(simplex, costs[i], found);
      hold(simplex, costs[i], found.best.cost);
    }
    if (!reach) costs.insert(costs.begin(), goal);
    finish(programme, costs, found, goal, reach);
  }

  // With season 1 as it was found, every cost after the other at its least, exactly.
  void finish(const PlanProgramme& programme, const std::vector<PlanCost>& costs, Found& found, const PlanCost& goal,
              std::optional<double> reach) {
    const double reached = reach.value_or(cost_at(goal, found.best.units));
    const double least = reached + target_rounding * std::fabs(reached);
    for (const double margin : {target_margin, 0.0}) {
      Simplex simplex(programme, go_on_);
      fix_first_season(simplex, found.best.units);
      if (reach) simplex.add_row(at_most(goal, *reach + margin * *reach));
      for (std::size_t i = 0; i < costs.size(); ++i) {
        simplex.set_cost(costs[i]);
        const bool dual = i == 0 && simplex.stand_at_best_policy(costs[i]);
        const State state = simplex.solve(dual);
        if (state == State::stopped) stopped_ = true;
        if (state != State::solved) break;
        if (cost_at(goal, simplex.units()) > least) break;
        found.best.units = simplex.units();
        if (i + 1 == costs.size()) return;
        simplex.stay_at_least_cost();
      }
      if (!reach) return;
    }
  }

  static double cost_at(const PlanCost& cost, const std::vector<double>& units) {
    double sum = 0;
    for (std::size_t j = 0; j < units.size(); ++j) sum += cost.cells[j] * units[j];
    return sum;
  }
  static void fix_first_season(Simplex& simplex, const std::vector<double>& units) {
    const auto& columns = simplex.programme().columns;
    for (std::size_t j = 0; j < columns.size() && columns[j].season == 1; ++j) {
      if (!columns[j].lacking) simplex.set_bounds(j, std::round(units[j]), std::round(units[j]));
    }
  }
  static PlanRow at_most(const PlanCost& cost, double bound) {
    PlanRow row{PlanRow::Kind::at_most, bound, {}};
    for (std::size_t j = 0; j < cost.cells.size(); ++j) {
      if (cost.cells[j] != 0) row.cells.push_back({j, cost.cells[j]});
    }
    return row;
  }
  static void hold(Simplex& simplex, const PlanCost& cost, double reached) {
    simplex.add_row(at_most(cost, reached + same_goal * std::max(std::fabs(reached), 1e-3)));
  }

  // The least of `cost` that is found, beginning with season 1 as it is.
  void settle(Simplex& simplex, const PlanCost& cost, Found& found) {
    const auto& columns = simplex.programme().columns;
    fix_first_season(simplex, found.best.units);
    found.best.cost = cost_at(cost, found.best.units);
    simplex.stand_at(found.best.basis);
    const State state = simplex.solve(false);
    if (state == State::stopped) stopped_ = true;
    if (state == State::solved) found.best = {simplex.units(), simplex.cost(), simplex.basis()};
    for (std::size_t j = 0; j < columns.size() && columns[j].season == 1; ++j) {
      if (!columns[j].lacking) simplex.set_bounds(j, 0, columns[j].most);
    }
    if (state != State::solved) return;
    Effort less = effort(simplex.programme());
    less.solves /= 4;
    less.at_most = less.solves;
    Search search(simplex, go_on_, less);
    const Found better = search.run(false, found.best);
    if (search.stopped()) stopped_ = true;
    if (better.best.found()) found.best = better.best;
  }

  Result<Plan> fewest_seasons() {
    const double target = static_cast<double>(task_.goal.target);
    std::vector<double> start(task_.start.begin(), task_.start.end());
    if (saleable_in(task_, start) >= target) return standing_already(std::move(start));
    std::size_t first_unsure = 0;  // the first number of seasons of which it is not known that it is too few
    for (std::size_t seasons = 1; seasons <= task_.seasons; ++seasons) {
      const auto [programme, goal] = well_scaled(seasons, false, [this](const auto& one) { return goal_of(one); });
      Simplex simplex(programme, go_on_);
      Effort reaching = effort(programme);
      reaching.enough = -target / goal.unit;
      reaching.of_use = -target * (1 - target_rounding) / goal.unit;
      Found found = search_goal(simplex, goal, reaching);
      if (found.best.cost <= reaching.of_use) {
        found.proven = true;
        const Solution first = found.best;
        break_ties(simplex, goal, found, std::max(found.best.cost, reaching.enough));
        const double unsure = first_unsure > 0 ? static_cast<double>(seasons - first_unsure) : 0.0;
        return answer(programme, {found.best.units, first.units}, target, seasons,
                      unsure / static_cast<double>(seasons));
      }
      if (stopped_) return nothing_found();
      if (found.state == State::infeasible && found.bound == -infinite) return what_is_in_the_way(seasons);
      if (found.state != State::infeasible && first_unsure == 0) first_unsure = seasons;
    }
    return short_of(target);
  }

  // No number of seasons reaches the target: by how much the best of them misses it.
  Result<Plan> short_of(double target) {
    Plan none;
    none.seasons = task_.seasons;
    double most = -infinite;
    std::size_t when = 0;
    for (std::size_t seasons = 1; seasons <= task_.seasons; ++seasons) {
      const auto [programme, goal] = well_scaled(seasons, false, [this](const auto& one) { return goal_of(one); });
      Simplex simplex(programme, go_on_);
      Effort better = effort(programme);
      better.of_use = -std::max(most, 0.0) / goal.unit;
      const Found found = search_goal(simplex, goal, better);
      if (stopped_) return nothing_found();
      if (!found.best.found() || -found.best.cost * goal.unit <= most) continue;
      most = -found.best.cost * goal.unit;
      when = seasons;
    }
    if (when == 0) return what_is_in_the_way(task_.seasons);
    none.in_the_way.push_back({PlanLimitKind::target, when, target - most, 0});
    return none;
  }

  // The programme in units near what stands in a good plan, and its cost near that of one: by solving it once, and anew
  // where either was far off.
  template <class CostOf>
  std::pair<PlanProgramme, PlanCost> well_scaled(std::size_t seasons, bool lacking, CostOf cost_of) const {
    PlanProgramme programme = plan_programme(task_, seasons, lacking);
    PlanCost cost = cost_of(programme);
    for (int round = 0; round < 3; ++round) {
      Simplex simplex(programme, go_on_);
      simplex.set_cost(cost);
      if (simplex.solve(simplex.stand_at_best_policy(cost)) != State::solved) break;
      const std::vector<double> units = units_of_like_size(programme, simplex.units());
      bool far = false;
      for (std::size_t t = 0; t < units.size(); ++t) {
        far = far || units[t] * far_from_one_size < programme.units[t] ||
              units[t] > programme.units[t] * far_from_one_size;
      }
      const double size = std::fabs(simplex.cost());
      const bool small = size > 0 && size * far_from_one_size < programme.most_bulbs;
      if (!far && !small) break;
      const double whole = size * cost.unit;
      if (far) {
        programme = plan_programme(task_, seasons, lacking, units);
        cost = cost_of(programme);
      }
      if (size > 0) scale(cost, programme.most_bulbs * cost.unit / whole);
    }
    return {std::move(programme), std::move(cost)};
  }
  static void scale(PlanCost& cost, double by) {
    const double factor = std::ldexp(1.0, std::ilogb(by));
    for (double& cell : cost.cells) cell *= factor;
    cost.unit /= factor;
  }

  Found search_goal(Simplex& simplex, const PlanCost& goal, const Effort& how_long) {
    simplex.set_cost(goal);
    const bool dual = simplex.stand_at_best_policy(goal);
    Search search(simplex, go_on_, how_long);
    Found found = search.run(dual);
    stopped_ = stopped_ || search.stopped() || found.state == State::stopped;
    return found;
  }

  Plan standing_already(std::vector<double> start) const {
    Plan plan;
    plan.feasible = plan.proven = true;
    plan.objective = 0;
    plan.stock.push_back(std::move(start));
    return plan;
  }

  // What a goal is worth, of the acts as they come out.
  double worth_of(const std::vector<std::vector<double>>& acts) const {
    return task_.goal.kind == PlanGoalKind::most_money ? money_of(task_, acts)
                                                       : saleable_in(task_, stock_after(task_, acts).back());
  }

  // The plan of the first solution whose acts hold and are worth what was promised; where none is, of the one that
  // is worth most, with what is missing as its gap.
  Result<Plan> answer(const PlanProgramme& programme, const std::vector<std::vector<double>>& solutions,
                      double promised, std::size_t seasons, double gap) const {
    Plan plan;
    double worth = -infinite;
    const double least = promised - agrees * std::max(std::fabs(promised), 1e-3);
    for (const std::vector<double>& solution : solutions) {
      auto acts = acts_of(task_, programme, solution);
      if (worth >= least || !holds(task_, acts, holds_to) || worth_of(acts) <= worth) continue;
      worth = worth_of(acts);
      plan.acts = std::move(acts);
    }
    const bool fewest = task_.goal.kind == PlanGoalKind::fewest_seasons_to;
    if (worth == -infinite || (fewest && worth < least)) return too_far_apart();
    if (worth < least) gap += (promised - worth) / (worth != 0 ? std::fabs(worth) : promised);
    plan.feasible = true;
    plan.gap = gap;
    plan.proven = gap == 0;
    plan.seasons = seasons;
    plan.stopped = stopped_;
    plan.stock = stock_after(task_, plan.acts);
    plan.objective = fewest ? static_cast<double>(seasons) : worth;
    return plan;
  }

  Result<Plan> what_is_in_the_way(std::size_t seasons) {
    const auto [programme, cost] =
        well_scaled(seasons, true, [this](const auto& one) { return cost_of_lacking(task_, one); });
    Simplex simplex(programme, go_on_);
    const Found found = search_goal(simplex, cost, effort(programme));
    if (found.state != State::solved && found.state != State::stopped) return too_far_apart();
    Plan none;
    none.seasons = seasons;
    none.stopped = stopped_;
    if (!found.best.found()) return none;
    for (std::size_t j = 0; j < programme.columns.size(); ++j) {
      const PlanColumn& column = programme.columns[j];
      if (!column.lacking || found.best.units[j] <= 1e-8) continue;
      none.in_the_way.push_back(*column.lacking);
      none.in_the_way.back().by = found.best.units[j] * column.unit;
    }
    return none;
  }

  Plan nothing_found() const {
    Plan none;
    none.seasons = task_.seasons;
    none.stopped = true;
    return none;
  }
  static Error too_far_apart() {
    return refusal(
        "acts: their numbers lie too far apart to be reckoned with; plan fewer seasons, or bring the largest "
        "and the smallest numbers nearer to each other");
  }

  const PlanTask& task_;
  const std::function<bool(double)>& go_on_;
  bool stopped_ = false;
};

}  // namespace

Result<Plan> solve_plan(const PlanTask& task, const std::function<bool(double done)>& go_on) {
  if (const auto fault = fault_of(task)) return refusal(*fault);
  return Planner(task, go_on).plan();
}

}  // namespace motherbulb
