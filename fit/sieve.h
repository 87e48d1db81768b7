// SPDX-License-Identifier: MIT
// A build that changes part by part, and which rules then clash, the ride left aside: what a search
// tabulates. The same rules, numbers and verdicts as check(); only faster to change.
// Invariant: after any sequence of lay() and set(), clashes() and nominal() are those of a build
// made with the same parts at once. Checked by: tests/search.
#pragma once

#include <memory>
#include <vector>

#include "build/library.h"
#include "fit/engine.h"

namespace ww::fit {

class Sieve {
 public:
  /// A part laid out for a slot: its struct and the numbers of its fields, worked out once.
  struct Piece;
  using PiecePtr = std::shared_ptr<const Piece>;

  explicit Sieve(const Build& build);
  Sieve(const Sieve& other);
  Sieve& operator=(const Sieve&) = delete;
  ~Sieve();

  /// Valid: a slot that decides no priors (neither donor nor rider), a part of its shelf.
  PiecePtr piece(const build::Slot& slot, const build::LibraryPart& part) const;
  /// What stands in the slot now, as a piece.
  PiecePtr piece_now(const build::Slot& slot) const;
  void lay(const Piece& piece);
  /// Leaves an optional slot empty.
  void take_away(const build::Slot& slot);
  /// A count, choice or setting, as build::set_number takes it; NaN takes a figure away. Valid: a
  /// field of a slot that is there and decides no priors.
  void set(Id id, double value);
  void set(Id id, const figure::Figure& figure);
  /// What the rules that read ride answers are to read; before that they never clash.
  void set_ride(const ride::Answers<double>& answers);

  /// As a clash of check() on the nominal answers.
  bool clashes(std::size_t rule) const;

  /// One figure's number moved, as a draw of its spread is; its part is as it was. Stands until the
  /// slot is laid anew.
  void draw(Id id, double value);
  /// The spread of a figure that has one.
  const ride::SoftFigure* soft(Id id) const;
  /// Whether the rule clashes were every number true, whatever it rests on.
  bool fails(std::size_t rule) const;

  const Build& build() const;
  const ride::NominalValues& nominal() const;

 private:
  void refresh(Id id);

  struct Inside;
  std::unique_ptr<Inside> in_;
};

}  // namespace ww::fit
