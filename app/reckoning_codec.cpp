#include "app/reckoning_codec.hpp"

#include <cereal/archives/binary.hpp>
#include <cereal/types/array.hpp>
#include <cereal/types/map.hpp>
#include <cereal/types/memory.hpp>
#include <cereal/types/optional.hpp>
#include <cereal/types/string.hpp>
#include <cereal/types/utility.hpp>
#include <cereal/types/variant.hpp>
#include <cereal/types/vector.hpp>
#include <exception>
#include <sstream>
#include <string>
#include <utility>
#include <variant>

namespace motherbulb {

// Each names all parts of a value: one part more or fewer does not compile.
#define PARTS(type, ...)                     \
  template <class Archive>                   \
  void serialize(Archive& ar, type& whole) { \
    auto& [__VA_ARGS__] = whole;             \
    ar(__VA_ARGS__);                         \
  }

PARTS(BatchId, bytes)
PARTS(Day, days)
PARTS(Grade, low_mm, high_mm)
PARTS(Square, size, cells)
PARTS(ModelClass, name, saleable)
PARTS(ModelYear, name, weight, survival, increase, parted)
PARTS(BadEvent, chance, takes)
PARTS(ModelMayBe, years, dispersion, bad_event)
PARTS(Model, name, classes, start, years, law, dispersion, places, bad_event, may_be)
PARTS(DrawnGives, per_mother, size_shares)
PARTS(CutGives, method, sections, per_mother, size_shares, may_be, share_cut, bulblet_girth_cm, dispersion, source,
      own_pots)
PARTS(Estimate, value, prior, own, others, source)
PARTS(ClassGrowth, grade, name, saleable, bulbs, loss, offsets, grows_to, grows_to_prior, seen, seen_others)
PARTS(GrowthModel, model, has_sections, classes, offset_sizes, may_be, missing, from_records)
PARTS(PlanClone, clone, growth, ways, least_to_cut_cm, own_pot_from_cm)
PARTS(LossChance, chance, error, exact)
PARTS(GrowthRate, rate, rate_all, stable, reproductive_value, damping_ratio, period, elasticity)
PARTS(StochasticGrowth, log_growth, se)
PARTS(Spread, mean, p5, p25, p50, p75, p95)
PARTS(OutlookSeason, season, total, saleable, p_target, lost)
PARTS(Lever, kind, change, saleable, rate)
PARTS(PlacesChance, places, lost)
PARTS(Release, season, counts)
PARTS(Outlook, rate, long_run, projection, seasons, saleable, release, levers, places, fewest_places)
PARTS(OutlookPicture, known, seasons, outlook, saleable)
PARTS(PlanClass, name, saleable, price)
PARTS(PlanGive, to, mean)
PARTS(PlanAct, name, of_class, space, hours, cost, gives)
PARTS(PlanLimits, space, hours)
PARTS(PlanGoal, kind, target, interest, wage, rent)
PARTS(PlanReserve, first, last, count)
PARTS(PlanTask, name, classes, start, acts, seasons, limits, goal, reserves)
PARTS(PlanInTheWay, kind, season, by, which)
PARTS(Plan, feasible, objective, gap, proven, seasons, acts, stock, in_the_way, stopped)
PARTS(SeasonActMeaning, clone, grade, kind, method, sections, per_mother)
PARTS(SeasonAct, season, act, count)
PARTS(SeasonChoice, name, saleable, chance, within_limits)
PARTS(SeasonRelease, season, counts, chance)
PARTS(WorkFigures, young_in_a_pot, sections_in_a_pot, sections_an_hour, pots_an_hour)
PARTS(SeasonWish, seasons, target, soonest, pots, hours, reserve, sure, work, paths, seed)
PARTS(SeasonPlan, task, meanings, plan, acts, saleable, chance, sure_enough, beside, release, pots, hours, missing)
PARTS(PlanPicture, clones, plan, advice)
PARTS(FinishedPot, batch, pot, clone, genus, method, sections_each, girth_cm, girth_said, pieces, sections, alive, dead,
      bulblets)
PARTS(YieldRange, mean, p5, p95)
PARTS(YieldAnswer, per_mother, clone_mean, from_records, log_mean, log_variance, f)
PARTS(YieldRow, clone, genus, method, sections_each, girth_cm, girth_said, pots, sections, alive, alive_of, dead,
      bulblets, answer)
PARTS(YieldsOfWay, row, pots, saleable)
PARTS(YieldsPicture, ways, mother, left_whole, taken_pots, uncounted_pots)
PARTS(ReckonJob, what, clone, on, wish, clones)
PARTS(Error, kind, what, further)
PARTS(ReckonAnswer, picture, target)

#undef PARTS

namespace {

template <class Value>
std::vector<std::uint8_t> encode(const Value& value) {
  std::ostringstream stream;
  cereal::BinaryOutputArchive archive(stream);
  archive(value);
  const std::string text = stream.str();
  return {text.begin(), text.end()};
}

Error not_whole() {
  return {ErrorKind::failed, "what was reckoned did not arrive whole; reckon it again", {}};
}

// Refused where bytes are missing, or too many.
template <class Value>
Result<Value> decode(const std::vector<std::uint8_t>& bytes) {
  try {
    std::istringstream stream(std::string(bytes.begin(), bytes.end()));
    cereal::BinaryInputArchive archive(stream);
    Value value;
    archive(value);
    if (stream.peek() != std::char_traits<char>::eof()) return not_whole();
    return value;
  } catch (const std::exception&) {
    return not_whole();
  }
}

using AnswerOrError = std::variant<ReckonAnswer, Error>;

}  // namespace

std::vector<std::uint8_t> encode_job(const ReckonJob& job) {
  return encode(job);
}

std::vector<std::uint8_t> encode_answer(const Result<ReckonAnswer>& answer) {
  return encode(answer ? AnswerOrError(*answer) : AnswerOrError(answer.error()));
}

Result<ReckonJob> decode_job(const std::vector<std::uint8_t>& bytes) {
  return decode<ReckonJob>(bytes);
}

Result<ReckonAnswer> decode_answer(const std::vector<std::uint8_t>& bytes) {
  auto held = decode<AnswerOrError>(bytes);
  if (!held) return held.error();
  if (const auto* why = std::get_if<Error>(&*held)) return *why;
  return std::get<ReckonAnswer>(std::move(*held));
}

}  // namespace motherbulb
