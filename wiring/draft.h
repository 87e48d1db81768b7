// SPDX-License-Identifier: MIT
// How a circuit is put together, used only by wiring/circuit_*.cpp. Ends are written
// "device.terminal"; a terminal comes into being when it is first named.
#pragma once

#include <string>
#include <string_view>

#include "wiring/circuit.h"

namespace ww::wiring {

/// A wire as it is declared; what follows from its group, ends and the sheet is added by the draft.
struct WireAsk {
  std::string_view label, from, to;
  Carries carries;
  std::string_view fuse = {};    ///< id of the fuse that protects it
  std::string_view before = {};  ///< of a wire without one: the fuse that it feeds
  std::string_view why;
  std::string_view colour = {};
  std::string_view route = {};
  int cores = 1;
};

class Draft {
 public:
  Draft(const build::Build& build, Circuit& circuit) : readings_(build), circuit_(&circuit) {}

  Readings& sheet() { return readings_; }
  Circuit& circuit() { return *circuit_; }

  void device(std::string_view id, std::string_view label, Place place, Presence presence,
              std::string_view why);
  /// A part of the sheet: on the list where its slot is there, else lacking.
  void part(std::string_view slot, std::string_view label, Place place, std::string_view why);
  bool has(std::string_view id) const { return circuit_->device(id) != nullptr; }
  void stud(std::string_view end, build::Stud stud);
  void wire(const WireAsk& ask);
  void bar(std::string_view from, std::string_view to);
  /// A small fuse for a branch: nobody lists them, so it is assumed; lacking where the question of
  /// the sheet that asks for it is answered with no.
  void fuse(std::string_view id, std::string_view label, Place place, std::string_view why,
            std::string_view question = {});
  /// Full pack voltage; NaN where it is not known.
  double full_V() const;
  bool dangerous() const { return !(full_V() <= 60); }
  void gap(Gap gap) { circuit_->gaps.push_back(std::move(gap)); }
  /// Lengths, sections and colours that the sheet gives for single wires; nets.
  void finish();

  /// The number of a choice as an enum.
  template <class Enum>
  Enum choice(std::string_view path) const {
    const double value = readings_.ask(path);
    return value == value ? static_cast<Enum>(static_cast<int>(value)) : Enum::unknown;
  }
  /// Presence of something that a question of the sheet decides.
  Presence answered(std::string_view path) const {
    return readings_.yes(path) ? Presence::on_list : Presence::assumed;
  }

 private:
  int terminal(std::string_view end);
  void set_length(Wire& wire);
  void set_section(Wire& wire);
  void name_nets();

  Readings readings_;
  Circuit* circuit_;
};

/// The parts of the circuit, in its order.
void draw_traction(Draft& draft);
void draw_motor(Draft& draft);
void draw_precharge(Draft& draft);
void draw_charging(Draft& draft);
void draw_converter(Draft& draft);
void draw_supply(Draft& draft);
void draw_interlocks(Draft& draft);
void draw_signals(Draft& draft);
void draw_monitor(Draft& draft);
/// What is lacking, not answered or a mistake as drawn.
void find_gaps(Draft& draft);

}  // namespace ww::wiring
