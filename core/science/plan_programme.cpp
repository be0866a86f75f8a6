#include "core/science/plan_programme.hpp"

#include <algorithm>
#include <cmath>

namespace motherbulb {
namespace {

constexpr double share_of_nothing = 1e-11;  // a share of a class below it is the solver's rounding
// What one bulb gives, when it is less: a size model's outermost tail. Beside cells near 1 such small ones make the
// simplex take noise for a pivot; and what stands after a plan is reckoned from all that is given.
constexpr double next_to_nothing = 1e-9;

double power_of_two_near(double number) {
  return number > 0 ? std::ldexp(1.0, static_cast<int>(std::lround(std::log2(number)))) : 1.0;
}

// The most that `stock` bulbs can give in a season: what takes of the first limit gives at best so much for a unit of
// it, else what takes of the second likewise, and all else at best so much for a bulb.
double most_given(const PlanTask& task, std::size_t season, double stock, double PlanAct::*first,
                  double PlanAct::*second) {
  const auto of = [&](double PlanAct::*what) {
    return limit_in(what == &PlanAct::space ? task.limits.space : task.limits.hours, season);
  };
  const auto first_limit = of(first), second_limit = of(second);
  double by_first = 0, by_second = 0, free = 0;
  for (const PlanAct& act : task.acts) {
    double given = 0;
    for (const PlanGive& give : act.gives) given += give.mean;
    if (first_limit && act.*first > 0) {
      by_first = std::max(by_first, given / (act.*first));
    } else if (second_limit && act.*second > 0) {
      by_second = std::max(by_second, given / (act.*second));
    } else {
      free = std::max(free, given);
    }
  }
  return free * stock + by_first * first_limit.value_or(0) + by_second * second_limit.value_or(0);
}

// A bound on the bulbs that stand at the beginning of each season, so near that it can serve as their size.
std::vector<double> most_in_seasons(const PlanTask& task, std::size_t seasons) {
  std::vector<double> worth(task.classes.size(), 1.0);  // of one bulb, k seasons before
  std::vector<double> most;
  for (std::size_t t = 1; t <= seasons; ++t) {
    double stock = 0;
    for (std::size_t c = 0; c < worth.size(); ++c) stock += worth[c] * static_cast<double>(task.start[c]);
    std::vector<double> before(worth.size(), 0.0);
    for (const PlanAct& act : task.acts) {
      double sum = 0;
      for (const PlanGive& give : act.gives) sum += give.mean * worth[give.to];
      before[act.of_class] = std::max(before[act.of_class], sum);
    }
    worth = std::move(before);
    if (t > 1) {
      stock = std::min(stock, most_given(task, t - 1, most.back(), &PlanAct::space, &PlanAct::hours));
      stock = std::min(stock, most_given(task, t - 1, most.back(), &PlanAct::hours, &PlanAct::space));
    }
    most.push_back(stock);
  }
  return most;
}

class Builder {
public:
  Builder(const PlanTask& task, std::size_t seasons, bool lacking, std::vector<double> units)
      : task_(task), lacking_(lacking), unit_(std::move(units)) {
    programme_.seasons = seasons;
    programme_.most_bulbs = 0;
    acts_of_class_.resize(task.classes.size());
    for (std::size_t a = 0; a < task.acts.size(); ++a) acts_of_class_[task.acts[a].of_class].push_back(a);
    if (unit_.empty()) {
      const std::vector<double> most = most_in_seasons(task, seasons);
      for (const double stock : most) unit_.push_back(most[0] > 0 ? power_of_two_near(stock / most[0]) : 1.0);
    }
    programme_.units = unit_;
    for (const std::int64_t count : task.start) {
      programme_.most_bulbs = std::max(programme_.most_bulbs, static_cast<double>(count));
    }
  }

  PlanProgramme build() {
    std::vector<bool> reached;
    for (const std::int64_t count : task_.start) reached.push_back(count > 0);
    for (std::size_t t = 1; t <= programme_.seasons; ++t) reached = add_season(t, reached);
    for (std::size_t t = 1; t <= programme_.seasons; ++t) {
      add_limit(t, task_.limits.space, &PlanAct::space, PlanLimitKind::space);
      add_limit(t, task_.limits.hours, &PlanAct::hours, PlanLimitKind::hours);
      for (std::size_t r = 0; r < task_.reserves.size(); ++r) add_reserve(t, r);
    }
    for (const PlanRow& row : programme_.rows) programme_.cells += row.cells.size();
    return std::move(programme_);
  }

private:
  // The columns and balances of one season; gives the classes that can hold bulbs in the next.
  std::vector<bool> add_season(std::size_t t, const std::vector<bool>& reached) {
    std::vector<std::size_t> column_of(task_.acts.size(), no_act);
    std::vector<bool> next(task_.classes.size(), false);
    const std::size_t first = programme_.columns.size();
    for (std::size_t a = 0; a < task_.acts.size(); ++a) {
      const PlanAct& act = task_.acts[a];
      if (!reached[act.of_class]) continue;
      column_of[a] = programme_.columns.size();
      programme_.columns.push_back({t, a, unit_[t - 1], static_cast<double>(task_.start[act.of_class]), {}});
      for (const PlanGive& give : act.gives) {
        if (give.mean > 0) next[give.to] = true;
      }
    }
    first_of_season_.push_back(first);
    end_of_season_.push_back(programme_.columns.size());
    std::vector<PlanRow> rows(task_.classes.size());
    if (t > 1) take_from_season_before(t, rows);
    for (std::size_t c = 0; c < task_.classes.size(); ++c) {
      if (reached[c]) add_balance(t, c, std::move(rows[c]), column_of);
    }
    return next;
  }

  void take_from_season_before(std::size_t t, std::vector<PlanRow>& rows) const {
    const double step = unit_[t - 2] / unit_[t - 1];
    for (std::size_t j = first_of_season_[t - 2]; j < end_of_season_[t - 2]; ++j) {
      for (const PlanGive& give : task_.acts[programme_.columns[j].act].gives) {
        const double mean = give.mean * step;
        if (mean > next_to_nothing) rows[give.to].cells.push_back({j, -mean});
      }
    }
  }

  void add_balance(std::size_t t, std::size_t c, PlanRow row, const std::vector<std::size_t>& column_of) {
    row.kind = PlanRow::Kind::balance;
    row.bound = t == 1 ? static_cast<double>(task_.start[c]) : 0.0;
    std::vector<std::size_t> columns;
    for (const std::size_t a : acts_of_class_[c]) columns.push_back(column_of[a]);
    for (const std::size_t j : columns) row.cells.push_back({j, 1.0});
    if (lacking_ && columns.empty()) {
      columns.push_back(add_lacking({PlanLimitKind::no_act, t, 0, c}, unit_[t - 1]));
      row.cells.push_back({columns.back(), 1.0});
    }
    programme_.rows.push_back(std::move(row));
    programme_.of_balance.push_back(std::move(columns));
    ++programme_.balances;
  }

  std::size_t add_lacking(PlanInTheWay what, double unit) {
    programme_.columns.push_back({what.season, no_act, unit, 0, what});
    return programme_.columns.size() - 1;
  }

  // Divided by a power of two, so that the largest number of the row is near 1.
  void add_scaled(PlanRow row, PlanInTheWay what) {
    double largest = 0;
    for (const auto& [column, number] : row.cells) largest = std::max(largest, number);
    const double unit = power_of_two_near(largest);
    for (auto& [column, number] : row.cells) number /= unit;
    row.bound /= unit;
    if (lacking_) {
      row.cells.push_back({add_lacking(what, unit), row.kind == PlanRow::Kind::at_least ? 1.0 : -1.0});
    }
    programme_.rows.push_back(std::move(row));
  }

  void add_limit(std::size_t t, const PlanLimit& limit, double PlanAct::*what, PlanLimitKind kind) {
    const auto bound = limit_in(limit, t);
    if (!bound) return;
    PlanRow row{PlanRow::Kind::at_most, *bound, {}};
    for (std::size_t j = first_of_season_[t - 1]; j < end_of_season_[t - 1]; ++j) {
      const PlanColumn& column = programme_.columns[j];
      if (column.lacking) continue;
      const double number = task_.acts[column.act].*what * column.unit;
      if (number > 0) row.cells.push_back({j, number});
    }
    if (!row.cells.empty()) add_scaled(std::move(row), {kind, t, 0, 0});
  }

  void add_reserve(std::size_t t, std::size_t r) {
    const PlanReserve& reserve = task_.reserves[r];
    if (!(reserve.count > 0)) return;
    PlanRow row{PlanRow::Kind::at_least, reserve.count, {}};
    for (std::size_t j = first_of_season_[t - 1]; j < end_of_season_[t - 1]; ++j) {
      const PlanColumn& column = programme_.columns[j];
      if (column.lacking) continue;
      const PlanAct& act = task_.acts[column.act];
      const bool counts = act.of_class >= reserve.first && act.of_class <= reserve.last;
      if (counts && kind_of(act) == PlanActKind::keeps) row.cells.push_back({j, column.unit});
    }
    add_scaled(std::move(row), {PlanLimitKind::reserve, t, 0, r});
  }

  const PlanTask& task_;
  bool lacking_;
  PlanProgramme programme_;
  std::vector<std::vector<std::size_t>> acts_of_class_;
  std::vector<double> unit_;
  std::vector<std::size_t> first_of_season_, end_of_season_;
};

// The cells divided by the largest of them, which `unit` keeps.
PlanCost scaled(std::vector<double> cells) {
  double largest = 0;
  for (const double cell : cells) largest = std::max(largest, std::fabs(cell));
  PlanCost cost{std::move(cells), power_of_two_near(largest)};
  for (double& cell : cost.cells) cell /= cost.unit;
  return cost;
}

template <class Of>
PlanCost cost_of_acts(const PlanTask& task, const PlanProgramme& programme, Of of) {
  std::vector<double> cells;
  for (const PlanColumn& column : programme.columns) {
    cells.push_back(column.lacking ? 0.0 : column.unit * of(task.acts[column.act], column));
  }
  return scaled(std::move(cells));
}

// Parts of a whole number that are whole and add up to it: rounded, then what is left over given to the largest.
void make_whole(std::vector<double>& parts, double sum) {
  double left = sum;
  for (double& part : parts) {
    part = std::round(part);
    left -= part;
  }
  if (left != 0 && !parts.empty()) *std::max_element(parts.begin(), parts.end()) += left;
}

}  // namespace

PlanProgramme plan_programme(const PlanTask& task, std::size_t seasons, bool lacking, std::vector<double> units) {
  return Builder(task, seasons, lacking, std::move(units)).build();
}

std::vector<double> units_of_like_size(const PlanProgramme& programme, const std::vector<double>& solution) {
  std::vector<double> largest(programme.seasons, 0.0);
  for (std::size_t j = 0; j < solution.size(); ++j) {
    const PlanColumn& column = programme.columns[j];
    if (!column.lacking) largest[column.season - 1] = std::max(largest[column.season - 1], solution[j]);
  }
  std::vector<double> units = programme.units;
  for (std::size_t t = 1; t < units.size(); ++t) {
    if (largest[t] > 0 && programme.most_bulbs > 0) {
      units[t] *= power_of_two_near(largest[t] / programme.most_bulbs);
    }
  }
  return units;
}

PlanCost cost_of_lacking(const PlanTask& task, const PlanProgramme& programme) {
  std::vector<double> cells;
  double all = 0;
  for (const std::int64_t count : task.start) all += static_cast<double>(count);
  for (const PlanColumn& column : programme.columns) {
    if (!column.lacking) {
      cells.push_back(0);
      continue;
    }
    const std::size_t season = column.lacking->season;
    double whole = all * (season == 1 ? 1.0 : column.unit);
    if (column.lacking->kind == PlanLimitKind::space) whole = *limit_in(task.limits.space, season);
    if (column.lacking->kind == PlanLimitKind::hours) whole = *limit_in(task.limits.hours, season);
    if (column.lacking->kind == PlanLimitKind::reserve) whole = task.reserves[column.lacking->which].count;
    cells.push_back(column.unit / std::max(1.0, whole));
  }
  return scaled(std::move(cells));
}

PlanCost cost_of_saleable(const PlanTask& task, const PlanProgramme& programme) {
  return cost_of_acts(task, programme, [&](const PlanAct& act, const PlanColumn& column) {
    double saleable = 0;
    if (column.season < programme.seasons) return saleable;
    for (const PlanGive& give : act.gives) {
      if (task.classes[give.to].saleable) saleable -= give.mean;
    }
    return saleable;
  });
}

PlanCost cost_of_money(const PlanTask& task, const PlanProgramme& programme) {
  return cost_of_acts(task, programme, [&](const PlanAct&, const PlanColumn& column) {
    double money = -money_of_one(task, column.act);
    for (std::size_t t = 0; t < column.season; ++t) money /= 1 + task.goal.interest;
    return money;
  });
}

PlanCost cost_of_hours(const PlanTask& task, const PlanProgramme& programme) {
  return cost_of_acts(task, programme, [](const PlanAct& act, const PlanColumn&) { return act.hours; });
}

PlanCost cost_of_cutting(const PlanTask& task, const PlanProgramme& programme) {
  return cost_of_acts(task, programme, [](const PlanAct& act, const PlanColumn&) {
    return kind_of(act) == PlanActKind::cuts ? 1.0 : 0.0;
  });
}

PlanCost cost_of_order(const PlanTask& task, const PlanProgramme& programme) {
  const double seasons = static_cast<double>(programme.seasons);
  const double acts = static_cast<double>(task.acts.size());
  // In units, not in bulbs: late seasons would outweigh the first. Earlier acts first, and that rather in early
  // seasons; the fraction is such that few sums are equal.
  std::vector<double> cells;
  for (const PlanColumn& column : programme.columns) {
    const double early = 1 + 0.6180339887 * (seasons - static_cast<double>(column.season)) / seasons;
    cells.push_back(column.lacking ? 0.0 : early * static_cast<double>(column.act + 1) / acts);
  }
  return {std::move(cells), 1};
}

std::vector<std::vector<double>> acts_of(const PlanTask& task, const PlanProgramme& programme,
                                         const std::vector<double>& units) {
  std::vector<std::vector<double>> acts(programme.seasons, std::vector<double>(task.acts.size(), 0.0));
  for (std::size_t j = 0; j < programme.columns.size(); ++j) {
    const PlanColumn& column = programme.columns[j];
    if (!column.lacking) acts[column.season - 1][column.act] = std::max(0.0, units[j]);
  }
  std::vector<std::vector<std::size_t>> of_class(task.classes.size());
  for (std::size_t a = 0; a < task.acts.size(); ++a) of_class[task.acts[a].of_class].push_back(a);
  std::vector<double> stock(task.start.begin(), task.start.end());
  for (std::size_t t = 0; t < programme.seasons; ++t) {
    for (std::size_t c = 0; c < of_class.size(); ++c) {
      double sum = 0;
      for (const std::size_t a : of_class[c]) sum += acts[t][a];
      std::vector<double> parts;
      for (const std::size_t a : of_class[c]) {
        const double share = sum > 0 ? acts[t][a] / sum : (a == of_class[c].front() ? 1.0 : 0.0);
        parts.push_back(share < share_of_nothing ? 0.0 : share * stock[c]);
      }
      if (t == 0) make_whole(parts, stock[c]);
      for (std::size_t i = 0; i < parts.size(); ++i) acts[t][of_class[c][i]] = parts[i];
    }
    stock = stock_after(task, {acts.begin(), acts.begin() + static_cast<std::ptrdiff_t>(t) + 1})[t + 1];
  }
  return acts;
}

}  // namespace motherbulb
