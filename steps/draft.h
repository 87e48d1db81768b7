// SPDX-License-Identifier: MIT
// How a protocol is put together, step after step; each is judged as it is added, so that a later
// one may rest on what an earlier one read. Private to steps/.
#pragma once

#include <functional>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "ride/ride.h"
#include "steps/joints.h"
#include "steps/numbers.h"
#include "steps/sorting.h"
#include "steps/step.h"
#include "wiring/sizing.h"
#include "wiring/sums.h"

namespace ww::steps {

/// What a reading is taken with, and how far that may be off. From memory: common hobby meters.
enum class Meter : std::uint8_t {
  eye,
  hand,
  volts,
  ohms,
  milliohms,
  insulation,
  clamp,
  milliamps,
  stopwatch,
  speed,
  display,
  thermometer,
  tape,
  drill
};
std::string_view tool_of(Meter meter);
/// How far a reading of `value` may be off, SI.
double error_of(Meter meter, double value);

/// Bounds that practice puts round a reading, whatever the build's own figures allow.
struct Window {
  double low = -std::numeric_limits<double>::infinity();
  double high = std::numeric_limits<double>::infinity();
  std::string_view why = {};
};

using Formula = std::function<double(const Numbers&)>;

/// One declaration a step.
struct Declared {
  std::string id;
  std::string title, doing;
  Meter meter = Meter::eye;
  std::string caution;
  figure::Kind kind = figure::Kind::ratio;
  bool tick = false;
  Expect expect = {};
  std::vector<std::string> needs = {};
  std::vector<Branch> tree = {};
  std::string live = {};
  std::string learns = {};
};

class Draft {
 public:
  Draft(const build::Build& build, const ride::Ride& ride);

  const build::Build& build() const { return *build_; }
  const ride::Ride& ride() const { return *ride_; }
  const Numbers& numbers() const { return numbers_; }
  const wiring::Circuit& circuit() const { return circuit_; }
  const wiring::Sizing& sizing() const { return sizing_; }
  const wiring::StartSums& start() const { return start_; }
  const Sorted& sorted() const { return sorted_; }
  const JointOrder& order() const { return order_; }
  double full_V() const { return full_V_; }
  bool dangerous() const { return !(full_V_ <= 60); }

  void stage(Stage stage) { stage_ = stage; }
  void add(Declared declared);
  /// The step if this build has it; else its needs are handed on to whoever needs it.
  void add_if(bool applies, Declared declared);
  /// A step that this build has not: who needs it needs these.
  void drop(const std::string& id, const std::vector<std::string>& needs);
  /// A step whose answer stands in the sheet already.
  void add_from_sheet(Declared declared, double value, std::string text);

  /// What a step read, if it passed; NaN else.
  double passed(std::string_view id) const;
  bool has(std::string_view id) const { return at_.count(std::string(id)) != 0; }

  /// A band round a sum: twice its half-width and the meter's error to each side, inside the
  /// window.
  Expect around(const Formula& formula, std::string sum, Meter meter,
                const Window& window = {}) const;
  /// A fixed band of practice.
  static Expect between(double low, double high, std::string why);
  static Expect at_most(double high, std::string why) { return between(0, high, std::move(why)); }
  static Expect at_least(double low, std::string why);

  std::vector<Step> take() { return std::move(steps_); }
  /// Ids in the log that no step has.
  std::vector<std::string> strangers() const;

 private:
  void judge(Step& step) const;

  const build::Build* build_;
  const ride::Ride* ride_;
  Numbers numbers_;
  wiring::Circuit circuit_;
  wiring::Sizing sizing_;
  wiring::StartSums start_;
  Sorted sorted_;
  JointOrder order_{};
  double full_V_;
  Stage stage_ = Stage::pack;
  std::vector<Step> steps_;
  std::map<std::string, std::size_t> at_;
  std::map<std::string, std::vector<std::string>> dropped_;
};

// The stages, in the order of the work.
void pack_steps(Draft& draft);
void wire_steps(Draft& draft);
void power_steps(Draft& draft);
void ride_steps(Draft& draft);

/// "98.6 V"; "?" where it is not known.
std::string shown(double value, figure::Kind kind);

}  // namespace ww::steps
