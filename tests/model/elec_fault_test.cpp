// SPDX-License-Identifier: MIT
// A short whose current rises through the cables' inductance until the fuse has melted: inverse
// pair, limits, and the same circuit in a simulator where one is installed.
#include <gtest/gtest.h>
#include <unistd.h>

#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <string>

#include "model/short_circuit.h"

namespace ww::model {
namespace {

void expect_close(double a, double b, double share) {
  EXPECT_NEAR(a, b, share * std::fabs(b));
}

TEST(ElecFault, TimeAndI2tAreInverse) {
  for (const double current : {200.0, 4000.0, 30000.0}) {
    for (const double tau : {1e-5, 1e-4, 5e-3}) {
      const FaultRise<double> f{current, tau};
      for (const double times : {0.01, 0.3, 1.0, 4.0, 300.0}) {
        const double I2t = fault_I2t_A2s(f, times * tau);
        expect_close(fault_time_s(f, I2t), times * tau, 1e-8);
      }
    }
  }
}

TEST(ElecFault, WithoutInductanceItIsTheSquareTimesTheTime) {
  const FaultRise<double> f{4000, 1e-9};
  expect_close(fault_I2t_A2s(f, 0.01), 4000.0 * 4000 * 0.01, 1e-6);
  expect_close(fault_time_s(f, 160e3), 0.01, 1e-6);
  // At the beginning it grows with the cube of time: (V/L)^2 t^3 / 3.
  const FaultRise<double> slow{1000, 1};
  expect_close(fault_I2t_A2s(slow, 1e-3), 1e6 * 1e-9 / 3, 2e-3);
}

TEST(ElecFault, OutsideItsDomainThereIsNoAnswer) {
  EXPECT_TRUE(std::isnan(fault_time_s<double>({4000, 1e-4}, 0)));
  EXPECT_TRUE(std::isnan(fault_time_s<double>({0, 1e-4}, 100)));
  EXPECT_TRUE(std::isnan(fault_I2t_A2s<double>({4000, 1e-4}, -1)));
  EXPECT_TRUE(std::isnan(fault_current_A<double>({4000, 0}, 1)));
}

/// A loop with pack, cable and fuse as the simulator takes it. The fuse is a resistor that opens
/// once the integral of the squared current, kept as the charge of a capacitor, has reached what
/// melts it.
struct FaultCircuit {
  double voltage_V, pack_ohm, cable_ohm, fuse_ohm, inductance_H, melting_A2s;
  double total_ohm() const { return pack_ohm + cable_ohm + fuse_ohm; }
};

/// When the simulated fuse has melted, s; and the current then.
struct Melted {
  double time_s = NAN, current_A = NAN;
};

Melted simulate(const FaultCircuit& c, double stop_s) {
  const std::string deck = ::testing::TempDir() + "ww_fault_" + std::to_string(getpid()) + ".cir";
  std::ofstream out(deck);
  out.precision(12);
  out << "short of a pack\nV1 p 0 " << c.voltage_V << "\nR1 p a " << c.pack_ohm << "\nL1 a b "
      << c.inductance_H << " ic=0\nR2 b f "
      << c.cable_ohm
      // 1 V on q is 1 kA2s.
      << "\nB1 0 q I=i(L1)*i(L1)/1000\nC1 q 0 1 ic=0\nR9 q 0 1e12\nR3 f 0 R='V(q)<"
      << c.melting_A2s / 1000 << " ? " << c.fuse_ohm << " : 10'\n.tran " << stop_s / 40000 << " "
      << stop_s << " 0 " << stop_s / 40000
      << " uic\n.control\nset numdgt=9\nrun\nmeas tran first when v(q)=" << c.melting_A2s / 1000
      << "\nmeas tran second max i(L1)\n.endc\n.end\n";
  out.close();
  Melted result;
  FILE* pipe = popen(("ngspice -b " + deck + " 2>/dev/null").c_str(), "r");
  if (pipe == nullptr) return result;
  std::array<char, 512> line{};
  while (std::fgets(line.data(), static_cast<int>(line.size()), pipe) != nullptr) {
    std::sscanf(line.data(), " first = %lf", &result.time_s);
    std::sscanf(line.data(), " second = %lf", &result.current_A);
  }
  pclose(pipe);
  std::remove(deck.c_str());
  return result;
}

TEST(ElecFault, MeltsTheFuseWhenTheCircuitSimulatorDoes) {
  if (std::system("ngspice --version > /dev/null 2>&1") != 0) {
    GTEST_SKIP() << "ngspice is not installed";
  }
  // Full and warm at the controller; empty and cold at the end of the motor leads; a long loop
  // whose inductance rules.
  for (const auto& c : {FaultCircuit{84, 20e-3, 4e-3, 0.4e-3, 2.4e-6, 60e3},
                        FaultCircuit{60, 42e-3, 9e-3, 0.4e-3, 4e-6, 60e3},
                        FaultCircuit{116, 12e-3, 3e-3, 0.3e-3, 40e-6, 5e3}}) {
    const FaultRise<double> f{c.voltage_V / c.total_ohm(), c.inductance_H / c.total_ohm()};
    const double ours_s = fault_time_s(f, c.melting_A2s);
    const Melted theirs = simulate(c, 1.5 * ours_s);
    expect_close(ours_s, theirs.time_s, 0.02);
    expect_close(ours_s, theirs.time_s, 0.002);  // what the sums themselves are good for
    expect_close(fault_current_A(f, ours_s), theirs.current_A, 0.005);
  }
}

}  // namespace
}  // namespace ww::model
