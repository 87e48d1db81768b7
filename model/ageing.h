// SPDX-License-Identifier: MIT
// Loss of capacity and rise of resistance of cells, by published fits. Losses are shares (0.02 is
// 2 %), times in s, temperatures in K; the coefficients keep their papers' own units, named beside
// them. Invariants:
// 1. A history of changing conditions is carried over by x^(1/p) = sum of k^(1/p) u, so its order
//    does not matter.
// 2. A chemistry without a published model here answers NaN, never another chemistry's figure.
// All fits are of one cell type each, without a knee; on another cell count on +-50 %.
#pragma once

#include <span>
#include <string_view>

#include "model/chemistry.h"

namespace ww::model {

/// Loss that grows as rate times use to a power, under conditions that change.
struct PowerLawHistory {
  double exponent;
  double sum = 0;  ///< of rate^(1/exponent) times use
};

/// The history after some more use at a rate. Order does not matter.
/// Valid: rate, use >= 0, exponent > 0.
/// Ignores any memory of the order of conditions.
/// Source: virtual time of equal loss. Checked by: values/ageing.tsv, model/ageing_test.
PowerLawHistory carried_on(PowerLawHistory history, double rate, double use);

/// Loss of the history so far.
/// Valid: any history.
/// Ignores what carried_on ignores.
/// Source: as carried_on. Checked by: values/ageing.tsv, model/ageing_test.
double history_loss(const PowerLawHistory& history);

// ---- LFP, cycling of a 26650 2 Ah cell

/// Factor B of the cycling law at a rate. Result in % per Ah^0.55.
/// Valid: 0.5 <= rate_per_h <= 10; outside: NaN. Falls and rises with the rate: fit noise.
/// Ignores depth of discharge.
/// Source: Wang et al. 2011, J. Power Sources 196, 3942; polynomial through its four points.
/// Checked by: values/ageing.tsv.
double wang_prefactor(double rate_per_h);

/// Rate k of the cycling law. Result in % per Ah^0.55 of its 2 Ah cell.
/// Valid: 0.5 <= rate_per_h <= 10, 273 K <= temperature <= 333.15 K; outside: NaN.
/// Ignores calendar ageing.
/// Source: Wang et al. 2011. Checked by: values/ageing.tsv.
double wang_rate(double rate_per_h, double temperature_K);

/// Wear of an LFP cell by cycling.
struct WangUse {
  double rate_per_h;
  double temperature_K;
  double discharged_C;  ///< charge taken out over the life so far
  double charge_C;      ///< capacity of the cell; the law is scaled from 2 Ah
};

/// Capacity lost. Result as a share.
/// Valid: as wang_rate.
/// Ignores calendar ageing and depth.
/// Source: Wang et al. 2011. Checked by: values/ageing.tsv.
double wang_loss(const WangUse& use);

/// Charge that may be taken out until a loss is reached. Result in C. use.discharged_C unused.
/// Valid: as wang_rate.
/// Ignores calendar ageing and depth.
/// Source: inverse of wang_loss. Checked by: values/ageing.tsv.
double wang_charge_until_C(const WangUse& use, double loss);

// ---- LFP, 26650 3 Ah cell

/// Calendar rate of capacity loss. Result per s^0.5.
/// Valid: 0 <= soc <= 1, 253.15 K <= temperature <= 333.15 K; outside: NaN.
/// Ignores the early reversible part.
/// Source: Naumann et al. 2018, J. Energy Storage 17, 153. Checked by: values/ageing.tsv.
double naumann_calendar_rate(double soc, double temperature_K);

/// Calendar rate of resistance rise. Result per s (the law is linear).
/// Valid: as naumann_calendar_rate. Replications disagree on a square or cube in soc; square here.
/// Ignores that disagreement, which is nil at soc 0.5 and largest at the ends.
/// Source: Naumann et al. 2018. Checked by: values/ageing.tsv (soc 0.5).
double naumann_calendar_resistance_rate(double soc, double temperature_K);

/// Cycling rate of capacity loss. Result per square root of full cycles.
/// Valid: 0 <= depth <= 1, 0 < rate_per_h <= 2; outside: NaN.
/// Ignores temperature (tests at 25 and 40 C).
/// Source: Naumann, Spingler & Jossen 2020, J. Power Sources 451, 227666. Checked by:
/// values/ageing.tsv.
double naumann_cycle_rate(double rate_per_h, double depth);

/// Cycling rate of resistance rise, never negative. Result per full cycle.
/// Valid: as naumann_cycle_rate.
/// Ignores temperature; the published slope turns negative above 1.05 C and is held at 0.
/// Source: Naumann, Spingler & Jossen 2020. Checked by: values/ageing.tsv.
double naumann_cycle_resistance_rate(double rate_per_h, double depth);

// ---- NMC111, 18650 2.05 Ah cell

/// Calendar rates. Results per day^0.75.
/// Valid: storage voltage 3.149..4.2 V (resistance from 3.097), 253.15..333.15 K; outside: NaN.
/// Ignores the knee.
/// Source: Schmalstieg et al. 2014, J. Power Sources 257, 325. Checked by: values/ageing.tsv.
double schmalstieg_calendar_rate(double voltage_V, double temperature_K);
double schmalstieg_calendar_resistance_rate(double voltage_V, double temperature_K);

/// Cycling rates: capacity per square root of Ah, resistance per Ah, both of charge in and out of
/// its 2.05 Ah cell.
/// Valid: 0 <= depth <= 1, mean voltage 3.0..4.2 V; near 35 C and 1 C; outside: NaN.
/// Ignores temperature and rate. The resistance rate may be slightly negative at small depth.
/// Source: Schmalstieg et al. 2014. Checked by: values/ageing.tsv.
double schmalstieg_cycle_rate(double voltage_mean_V, double depth);
double schmalstieg_cycle_resistance_rate(double voltage_mean_V, double depth);

inline constexpr double schmalstieg_cell_Ah = 2.05;

// ---- NCA, 18650 cell

/// Calendar rate. Result per day^0.512.
/// Valid: 0 <= soc <= 1, 253.15 K <= temperature <= 333.15 K; outside: NaN.
/// Ignores the knee.
/// Source: NREL fit of Keil calendar data. Checked by: values/ageing.tsv.
double nca_calendar_rate(double soc, double temperature_K);

/// Cycling rate. Result per full cycles^0.699.
/// Valid: 0 <= depth <= 1; outside: NaN.
/// Ignores temperature, rate and the knee.
/// Source: NREL fit of Preger cycling data. Checked by: values/ageing.tsv.
double nca_cycle_rate(double depth);

// ---- LTO, 10 Ah cell with NMC cathode

/// Cycling rate. Result per full cycles^0.526. Calendar loss is about nil below 60 C.
/// Valid: 0 <= depth <= 1, 0 < rate_per_h <= 10, 253.15 K <= temperature <= 333.15 K; else NaN.
/// Ignores calendar ageing.
/// Source: fit of Bank 2020, J. Power Sources 228566. Checked by: values/ageing.tsv.
double lto_cycle_rate(double rate_per_h, double depth, double temperature_K);

// ---- The rider's own use

/// One phase of a bike's life under steady conditions.
struct AgeingUse {
  double duration_s;
  double full_cycles;    ///< equivalent full cycles in that time: charge out over capacity
  double depth;          ///< of the usual ride, share of capacity
  double rate_per_h;     ///< mean discharge current of a ride over capacity per hour
  double soc_storage;    ///< at which it stands; a ride starts there, or at depth if that is more
  double temperature_K;  ///< of the cells where it stands
};

/// Equivalent full cycles of riding a distance. Dimensionless.
/// Valid: consumption at the pack's terminals, energy of one full charge.
/// Ignores charge put back by regeneration and taken out again.
/// Source: definition. Checked by: model/ageing_test.
double full_cycles(double distance_m, double consumption_Jpm, double energy_full_J);

/// What a history did to a cell. Calendar and cycling losses add. NaN: no published model here.
struct Ageing {
  double calendar_loss;      ///< share of the new capacity
  double cycle_loss;         ///< share of the new capacity
  double capacity_left;      ///< 1 less both, not below 0
  double resistance_factor;  ///< of the new resistance; NaN where only capacity was fitted
};

/// Capacity and resistance after phases of use, in any order.
/// Valid: LFP, NMC, NCA, LTO; other chemistries, or conditions outside the fits: NaN.
/// Ignores the knee, plating (cold or fast charging), calendar loss of LTO, spread between cells.
/// Source: the fits above (LFP both Naumann). Checked by: values/ageing.tsv, model/ageing_test.
Ageing aged(Chemistry chemistry, std::span<const AgeingUse> phases);

/// Capacity left after one phase of use. Result 0..1; NaN where there is no published model here.
/// Valid: as aged.
/// Ignores what aged ignores.
/// Source: as aged. Checked by: values/ageing.tsv, model/ageing_test.
double capacity_left(Chemistry chemistry, const AgeingUse& use);

/// The paper behind aged(), or "no published model here".
std::string_view ageing_source(Chemistry chemistry);

}  // namespace ww::model
