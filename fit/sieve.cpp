// SPDX-License-Identifier: MIT
#include "fit/sieve.h"

#include <algorithm>

#include "base/check.h"
#include "fit/desk.h"

namespace ww::fit {

struct Sieve::Piece {
  const build::Slot* slot;
  std::shared_ptr<void> part;
  Id first = 0;  ///< of the slot's fields, which stand together
  std::vector<double> at;
  std::vector<ride::Source> source;
  std::vector<ride::SoftFigure> soft;
  std::vector<int> soft_of;
};

struct Sieve::Inside {
  explicit Inside(const Build& made) : build(made), numbers(made), desk(build, numbers, ride) {
    spread_out();
  }
  Inside(const Inside& o)
      : build(o.build), numbers(o.numbers), ride(o.ride), desk(build, numbers, ride) {}
  Inside& operator=(const Inside&) = delete;

  /// Soft figures by id instead of packed, so that one can change in its place.
  void spread_out() {
    const auto count = static_cast<std::size_t>(build::schema().size());
    std::vector<ride::SoftFigure> by_id(count);
    for (const auto& soft : numbers.soft) {
      by_id[static_cast<std::size_t>(soft.id)] = soft;
      numbers.soft_of[static_cast<std::size_t>(soft.id)] = soft.id;
    }
    numbers.soft = std::move(by_id);
  }

  Build build;
  Numbers numbers;
  ride::Ride ride;  ///< none, until it is set
  Desk desk;
};

Sieve::Sieve(const Build& build) : in_(std::make_unique<Inside>(build)) {}
Sieve::Sieve(const Sieve& other) : in_(std::make_unique<Inside>(*other.in_)) {}
Sieve::~Sieve() = default;

const Build& Sieve::build() const {
  return in_->build;
}
const ride::NominalValues& Sieve::nominal() const {
  return in_->numbers.nominal;
}

namespace {

/// The numbers of a slot's fields as they stand in a build.
void take_numbers(const Build& build, const build::Slot& slot, Id& first,
                  std::vector<ride::SoftFigure>& soft, std::vector<int>& soft_of,
                  ride::NominalValues& nominal) {
  const auto fields = build::schema().fields_of(slot);
  WW_ASSERT(!fields.empty() && fields.back() - fields.front() + 1 == Id(fields.size()));
  first = fields.front();
  nominal.at.resize(static_cast<std::size_t>(build::schema().size()));
  nominal.source.resize(nominal.at.size());
  for (const Id id : fields) {
    const auto figure = ride::soft_figure(build, id);
    ride::set_nominal(nominal, build, id, figure);
    soft.push_back(figure ? *figure : ride::SoftFigure{});
    soft_of.push_back(figure ? id : -1);
  }
}

}  // namespace

Sieve::PiecePtr Sieve::piece_now(const build::Slot& slot) const {
  WW_ASSERT(!build::decides_priors(slot));
  auto piece = std::make_shared<Piece>();
  piece->slot = &slot;
  piece->part = slot.fresh();
  ride::NominalValues nominal;
  Build& build = in_->build;
  WW_ASSERT(build::slot_present(build, slot));
  slot.copy(piece->part.get(), slot.reach(build));
  take_numbers(build, slot, piece->first, piece->soft, piece->soft_of, nominal);
  const auto first = static_cast<std::ptrdiff_t>(piece->first);
  const auto last = first + static_cast<std::ptrdiff_t>(piece->soft.size());
  piece->at.assign(nominal.at.begin() + first, nominal.at.begin() + last);
  piece->source.assign(nominal.source.begin() + first, nominal.source.begin() + last);
  return piece;
}

Sieve::PiecePtr Sieve::piece(const build::Slot& slot, const build::LibraryPart& part) const {
  Sieve aside(*this);
  build::put_part(aside.in_->build, slot, part);
  return aside.piece_now(slot);
}

void Sieve::lay(const Piece& piece) {
  Numbers& n = in_->numbers;
  piece.slot->copy(piece.slot->make(in_->build), piece.part.get());
  const auto first = static_cast<std::ptrdiff_t>(piece.first);
  std::copy(piece.at.begin(), piece.at.end(), n.nominal.at.begin() + first);
  std::copy(piece.source.begin(), piece.source.end(), n.nominal.source.begin() + first);
  std::copy(piece.soft.begin(), piece.soft.end(), n.soft.begin() + first);
  std::copy(piece.soft_of.begin(), piece.soft_of.end(), n.soft_of.begin() + first);
  in_->desk.forget();
}

void Sieve::take_away(const build::Slot& slot) {
  slot.remove(in_->build);
  for (const Id id : build::schema().fields_of(slot)) refresh(id);
}

void Sieve::refresh(Id id) {
  Numbers& n = in_->numbers;
  const auto i = static_cast<std::size_t>(id);
  const auto soft = ride::soft_figure(in_->build, id);
  ride::set_nominal(n.nominal, in_->build, id, soft);
  n.soft[i] = soft ? *soft : ride::SoftFigure{};
  n.soft_of[i] = soft ? id : -1;
  in_->desk.forget();
}

void Sieve::set(Id id, double value) {
  WW_ASSERT(!build::decides_priors(*build::schema()[id].slot));
  build::set_number(in_->build, id, value);
  refresh(id);
}

void Sieve::set(Id id, const figure::Figure& figure) {
  WW_ASSERT(!build::decides_priors(*build::schema()[id].slot));
  *build::figure_at(in_->build, id) = figure;
  refresh(id);
}

void Sieve::set_ride(const ride::Answers<double>& answers) {
  in_->ride.possible = true;
  in_->ride.nominal = answers;
  for (std::size_t a = 0; a < ride::answer_count; ++a)
    in_->ride.bands[a] = {answers.at[a], answers.at[a], answers.at[a]};
  in_->desk.forget();
}

bool Sieve::clashes(std::size_t rule) const {
  return in_->desk.clashes(rule);
}

void Sieve::draw(Id id, double value) {
  in_->numbers.nominal.at[static_cast<std::size_t>(id)] = value;
  in_->desk.forget();
}

const ride::SoftFigure* Sieve::soft(Id id) const {
  const auto i = static_cast<std::size_t>(id);
  return in_->numbers.soft_of[i] < 0 ? nullptr : &in_->numbers.soft[i];
}

bool Sieve::fails(std::size_t rule) const {
  return in_->desk.fails(rule);
}

}  // namespace ww::fit
