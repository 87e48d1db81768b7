// SPDX-License-Identifier: MIT
// What a wire must be: every way holds for the size that is said to be needed and fails for the
// next smaller one; more current, more heat or a longer way never asks for less; and the sums of a
// circuit.
#include "wiring/sizing.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "model/precharge.h"
#include "model/wire_tables.h"
#include "tests/support/world.h"
#include "wiring/conductor.h"
#include "wiring/fuses.h"
#include "wiring/sums.h"

namespace ww::wiring {
namespace {

using build::Build;
using support::demo;

const ride::Ride& ride_of(const std::string& name) {
  static std::map<std::string, ride::Ride> rides;
  const auto at = rides.find(name);
  if (at != rides.end()) return at->second;
  return rides[name] = ride::ride(demo(name), support::cycles(), {.draws = 0, .pushes = false});
}

struct Whole {
  Build build;
  Circuit circuit;
  Sizing sizing;
};
Whole whole(const Build& build, const ride::Ride& ride) {
  Whole w{build, circuit(build), {}};
  w.sizing = size(build, w.circuit, ride);
  return w;
}

const SizedWire& of(const Whole& w, const char* label) {
  const Wire* wire = w.circuit.wire(label);
  EXPECT_NE(wire, nullptr) << label;
  return *w.sizing.wire(static_cast<int>(wire - w.circuit.wires.data()));
}

Build with_section(Build build, const std::string& label, double section_m2) {
  build.wires.push_back({});
  build.wires.back().label = label;
  build.wires.back().section.value = section_m2;
  return build;
}

bool good(const SizedWire& wire) {
  for (const SizedBy& way : wire.ways) {
    if (!way.good) return false;
  }
  return true;
}

/// The next smaller usual section; 0 below the smallest.
double smaller_than(double section_m2) {
  double below = 0;
  for (const double section : {0.5e-6, 0.75e-6, 1.0e-6}) {
    if (section < section_m2 * (1 - 1e-9)) below = section;
  }
  for (const auto& size : model::class5_sizes()) {
    if (size.section_m2 < section_m2 * (1 - 1e-9)) below = size.section_m2;
  }
  return below;
}

TEST(Sizing, TheNeededSizeIsGoodAndTheNextSmallerIsNot) {
  for (const std::string name : {"commuter", "beginner"}) {
    const Build build = demo(name);
    const auto& ride = ride_of(name);
    const Whole first = whole(build, ride);
    for (const SizedWire& wire : first.sizing.wires) {
      const auto& drawn = first.circuit.wires[static_cast<std::size_t>(wire.wire)];
      if (std::isnan(wire.needed_m2)) continue;
      SCOPED_TRACE(name + " " + drawn.label);
      const Whole as_needed = whole(with_section(build, drawn.label, wire.needed_m2), ride);
      EXPECT_TRUE(good(of(as_needed, drawn.label.c_str())));
      const double below = smaller_than(wire.needed_m2);
      if (below == 0) continue;
      const Whole thinner = whole(with_section(build, drawn.label, below), ride);
      EXPECT_FALSE(good(of(thinner, drawn.label.c_str())));
      EXPECT_EQ(of(thinner, drawn.label.c_str()).needed_m2, wire.needed_m2);
    }
  }
}

TEST(Sizing, EveryFusedThinWireCarriesItsFuse) {
  for (const std::string name : {"commuter", "beginner", "trail", "road", "reference"}) {
    const Whole w = whole(demo(name), ride_of(name));
    for (const SizedWire& wire : w.sizing.wires) {
      const auto& drawn = w.circuit.wires[static_cast<std::size_t>(wire.wire)];
      if (wire.laid || std::isnan(wire.fuse_A) || std::isnan(wire.needed_m2)) continue;
      EXPECT_GE(wire.carries_A, wire.fuse_A) << name << " " << drawn.label;
      EXPECT_GE(wire.withstand_A2s, wire.clearing_A2s) << name << " " << drawn.label;
    }
  }
}

TEST(Sizing, MoreCurrentHeatOrLengthNeverAsksForLess) {
  Build build = demo("commuter");
  const auto& ride = ride_of("commuter");
  double last = 0, last_K = 0;
  for (const double hottest_K : {288.15, 303.15, 318.15}) {
    build.surroundings.hottest.value = hottest_K;
    const Whole w = whole(build, ride);
    EXPECT_GE(of(w, "T4").needed_m2, last);
    EXPECT_GT(of(w, "T4").temperature_K, last_K);
    last = of(w, "T4").needed_m2;
    last_K = of(w, "T4").temperature_K;
  }
  last = 0;
  for (const double head_W : {10.0, 55.0, 110.0, 200.0}) {
    build.donor->load_headlight.value = head_W;
    const Whole w = whole(build, ride);
    EXPECT_GE(of(w, "L10").needed_m2, last);
    last = of(w, "L10").needed_m2;
  }
  last = 0;
  for (const double length_m : {0.5, 2.0, 6.0}) {
    build.loom.fuse_box_to_head.value = length_m;
    const Whole w = whole(build, ride);
    EXPECT_GE(of(w, "L12").needed_m2, last);
    last = of(w, "L12").needed_m2;
  }
}

TEST(Sizing, ASleeveWarmsTheCable) {
  Build build = demo("commuter");
  build.cable_main->bundled.value = 1;
  const auto& ride = ride_of("commuter");
  build.loom.sleeve = build::Sleeve::none;
  const double bare_K = of(whole(build, ride), "T4").temperature_K;
  build.loom.sleeve = build::Sleeve::braid;
  const double braid_K = of(whole(build, ride), "T4").temperature_K;
  build.loom.sleeve = build::Sleeve::conduit;
  const double conduit_K = of(whole(build, ride), "T4").temperature_K;
  EXPECT_GT(braid_K, bare_K);
  EXPECT_GT(conduit_K, braid_K);
}

TEST(Sizing, WithoutARideTheControllersContinuousCurrentStandsIn) {
  ride::Ride none;
  const Whole w = whole(demo("commuter"), none);
  const auto& wire = of(w, "T4");
  EXPECT_EQ(wire.duty.rms_A, w.build.controller->current_battery_continuous.value);
  EXPECT_NE(wire.duty.because.find("no ride"), std::string::npos);
}

TEST(Sizing, AMissingFigureIsNamedAndNothingIsMadeUp) {
  Build build = demo("commuter");
  build.precharge.reset();
  const Whole w = whole(build, ride_of("commuter"));
  EXPECT_TRUE(std::isnan(of(w, "R1").duty.peak_A));
  EXPECT_TRUE(std::isnan(of(w, "R1").fuse_A));
  const auto id = build::id_of("precharge.resistance");
  EXPECT_NE(std::find(w.sizing.missing.begin(), w.sizing.missing.end(), id),
            w.sizing.missing.end());
}

TEST(Sizing, LugsTakeTheStudOfEachEnd) {
  Build build = demo("commuter");
  build.pack->mid_disconnect = build::Answer::no;
  build.contactor->stud = build::Stud::m10;
  const Whole w = whole(build, ride_of("commuter"));
  EXPECT_EQ(of(w, "T3").to_end.stud, build::Stud::m10);
  EXPECT_NEAR(of(w, "T3").to_end.hole_m, 10.4e-3, 1e-12);
  EXPECT_EQ(of(w, "T4").from_end.stud, build::Stud::m10);
  EXPECT_EQ(of(w, "T1").from_end.barrel_m2, build.cable_main->section.value);
  EXPECT_TRUE(std::isnan(of(w, "K1").from_end.barrel_m2));
}

TEST(Sizing, EveryLiveWireHasItsCaution) {
  for (const std::string name : {"commuter", "beginner", "reference"}) {
    const Whole w = whole(demo(name), ride_of(name));
    for (const SizedWire& wire : w.sizing.wires) {
      const auto& drawn = w.circuit.wires[static_cast<std::size_t>(wire.wire)];
      const bool live = drawn.group != Group::signal && drawn.group != Group::supply &&
                        drawn.carries != Carries::signal;
      EXPECT_FALSE(live && wire.caution.empty()) << drawn.label;
      EXPECT_EQ(wire.caution.find("safe"), std::string::npos) << drawn.label;
    }
  }
}

TEST(Fuses, RatingsAreThoseThatAreSold) {
  EXPECT_EQ(branch_rating_A(0.2), 1);
  EXPECT_EQ(branch_rating_A(5), 5);
  EXPECT_EQ(branch_rating_A(5.01), 7.5);
  EXPECT_EQ(branch_rating_A(30.1), 35);
  EXPECT_TRUE(std::isnan(branch_rating_A(NAN)));
}

TEST(Fuses, AConverterAloneMayNeverBlowTheFuse) {
  Build build = demo("commuter");
  build.buffer.reset();
  build.dcdc->current_out.value = 4;
  const Whole w = whole(build, ride_of("commuter"));
  const SizedFuse* horn = w.sizing.fuse("fuse_horn");
  ASSERT_NE(horn, nullptr);
  EXPECT_EQ(horn->weakest_A, 4);
  EXPECT_FALSE(horn->against.empty());
}

TEST(Sums, ThePreChargeIsThatOfTheKernels) {
  const Build build = demo("commuter");
  Readings sheet(build);
  const StartSums s = start_sums(sheet);
  const model::Precharge<double> p{s.voltage_V, s.resistance_ohm, s.capacitance_F, s.load_A};
  EXPECT_NEAR(s.time_95_s, model::precharge_time_s(p, 0.95), 1e-12);
  EXPECT_NEAR(s.energy_J, 0.5 * s.capacitance_F * s.voltage_V * s.voltage_V, 1e-9);
  EXPECT_LT(s.closing_A, s.closing_empty_A);
  EXPECT_NEAR(s.first_W, s.voltage_V * s.voltage_V / s.resistance_ohm, 1e-9);
  for (const auto& text : {s.if_relay_sticks, s.if_load_hangs, s.if_open, s.caution})
    EXPECT_FALSE(text.empty());
}

TEST(Sums, ALoadOnTheBusMayHoldItBackForEver) {
  Build build = demo("commuter");
  build.wiring.bus_load_at_precharge.value = 0.5;
  Readings sheet(build);
  const StartSums s = start_sums(sheet);
  EXPECT_TRUE(std::isnan(s.time_95_s));
  EXPECT_NEAR(s.voltage_V - s.final_V, 0.5 * s.resistance_ohm, 1e-9);
}

TEST(Sums, TheCoilHasLessThanTheSupplyAndLessStillThroughThinWire) {
  const Build build = demo("commuter");
  const auto& ride = ride_of("commuter");
  const Whole w = whole(build, ride);
  Readings sheet(build);
  const SupplySums s = supply_sums(sheet, w.circuit, w.sizing);
  EXPECT_LT(s.coil_V, s.supply_V);
  EXPECT_GT(s.coil_V, s.pull_in_V);
  const Whole thin = whole(with_section(build, "K3", 0.2e-6), ride);
  EXPECT_LT(supply_sums(sheet, thin.circuit, thin.sizing).coil_V, s.coil_V);
}

TEST(Sums, AShortIsStrongestAtThePackAndFullAndWarm) {
  const Build build = demo("commuter");
  const Whole w = whole(build, ride_of("commuter"));
  Readings sheet(build);
  const auto list = faults(sheet, w.circuit, w.sizing);
  ASSERT_EQ(list.size(), 8U);
  for (std::size_t i = 0; i + 2 < list.size(); ++i)
    EXPECT_GT(list[i].current_A, list[i + 2].current_A);
  for (std::size_t i = 0; i < list.size(); i += 2) {
    EXPECT_GT(list[i].current_A, list[i + 1].current_A);
    EXPECT_FALSE(list[i].fuse_in_way && list[i].melts_s >= list[i + 1].melts_s);
  }
  EXPECT_FALSE(list[0].fuse_in_way);
  EXPECT_FALSE(list[0].cleared);
}

}  // namespace
}  // namespace ww::wiring
