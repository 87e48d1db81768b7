// SPDX-License-Identifier: MIT
#include "model/ageing.h"

#include <cmath>

#include "tests/values/registry.h"

namespace {

using namespace ww::model;
using namespace ww::values;

constexpr double year_s = 365 * 86400.0;

double kelvin(const Given& g) {
  return g("temperature_C") + 273.15;
}

WangUse wang_of(const Given& g) {
  return {.rate_per_h = g("rate_per_h"),
          .temperature_K = kelvin(g),
          .discharged_C = g.or_else("discharged_Ah", 0) * 3600,
          .charge_C = g.or_else("charge_Ah", 2) * 3600};
}

double power_loss(double exponent, double rate, double use) {
  return history_loss(carried_on({.exponent = exponent}, rate, use));
}

Chemistry chemistry_of(const std::string& name) {
  if (name == "lfp") return Chemistry::lfp;
  if (name == "nmc") return Chemistry::nmc;
  if (name == "nca") return Chemistry::nca;
  if (name == "lco") return Chemistry::lco;
  if (name == "lto") return Chemistry::lto;
  if (name == "sodium") return Chemistry::sodium;
  if (name == "lead") return Chemistry::lead;
  throw std::runtime_error("no chemistry " + name);
}

AgeingUse use_of(const Given& g) {
  return {.duration_s = g("years") * year_s,
          .full_cycles = g.or_else("full_cycles", 0),
          .depth = g.or_else("depth", 0.5),
          .rate_per_h = g.or_else("rate_per_h", 1),
          .soc_storage = g("soc"),
          .temperature_K = kelvin(g)};
}

const Topic ageing(
    "model/ageing.h",
    {{"wang_prefactor", [](const Given& g) { return wang_prefactor(g("rate_per_h")); }},
     {"wang_rate", [](const Given& g) { return wang_rate(g("rate_per_h"), kelvin(g)); }},
     {"wang_loss_percent", [](const Given& g) { return 100 * wang_loss(wang_of(g)); }},
     {"wang_until_Ah",
      [](const Given& g) {
        return wang_charge_until_C(wang_of(g), g("loss_percent") / 100) / 3600;
      }},
     {"naumann_calendar_percent",
      [](const Given& g) {
        return 100 *
               power_loss(0.5, naumann_calendar_rate(g("soc"), kelvin(g)), g("years") * year_s);
      }},
     {"naumann_calendar_resistance_percent",
      [](const Given& g) {
        return 100 * naumann_calendar_resistance_rate(g("soc"), kelvin(g)) * g("years") * year_s;
      }},
     {"naumann_cycle_percent",
      [](const Given& g) {
        return 100 *
               power_loss(0.5, naumann_cycle_rate(g("rate_per_h"), g("depth")), g("full_cycles"));
      }},
     {"naumann_cycle_resistance_percent",
      [](const Given& g) {
        return 100 * naumann_cycle_resistance_rate(g("rate_per_h"), g("depth")) * g("full_cycles");
      }},
     {"schmalstieg_calendar_rate",
      [](const Given& g) { return schmalstieg_calendar_rate(g("voltage_V"), kelvin(g)); }},
     {"schmalstieg_calendar_percent",
      [](const Given& g) {
        return 100 * power_loss(0.75, schmalstieg_calendar_rate(g("voltage_V"), kelvin(g)),
                                365 * g("years"));
      }},
     {"schmalstieg_calendar_resistance_rate",
      [](const Given& g) {
        return schmalstieg_calendar_resistance_rate(g("voltage_V"), kelvin(g));
      }},
     {"schmalstieg_calendar_resistance_percent",
      [](const Given& g) {
        return 100 * power_loss(0.75,
                                schmalstieg_calendar_resistance_rate(g("voltage_V"), kelvin(g)),
                                365 * g("years"));
      }},
     {"schmalstieg_cycle_rate",
      [](const Given& g) { return schmalstieg_cycle_rate(g("voltage_V"), g("depth")); }},
     {"schmalstieg_cycle_percent",
      [](const Given& g) {
        return 100 * power_loss(0.5, schmalstieg_cycle_rate(g("voltage_V"), g("depth")),
                                g("throughput_Ah"));
      }},
     {"schmalstieg_cycle_resistance_rate",
      [](const Given& g) { return schmalstieg_cycle_resistance_rate(g("voltage_V"), g("depth")); }},
     {"nca_calendar_percent",
      [](const Given& g) {
        return 100 * power_loss(0.512, nca_calendar_rate(g("soc"), kelvin(g)), g("days"));
      }},
     {"nca_cycle_percent",
      [](const Given& g) {
        return 100 * power_loss(0.699, nca_cycle_rate(g("depth")), g("full_cycles"));
      }},
     {"lto_cycle_percent",
      [](const Given& g) {
        return 100 * power_loss(0.526, lto_cycle_rate(g("rate_per_h"), g("depth"), kelvin(g)),
                                g("full_cycles"));
      }},
     {"naumann_two_years_percent",
      [](const Given& g) {
        PowerLawHistory h{.exponent = 0.5};
        h = carried_on(h, naumann_calendar_rate(g("first_soc"), g("first_C") + 273.15), year_s);
        h = carried_on(h, naumann_calendar_rate(g("second_soc"), g("second_C") + 273.15), year_s);
        return 100 * history_loss(h);
      }},
     {"schmalstieg_two_years_percent",
      [](const Given& g) {
        PowerLawHistory h{.exponent = 0.75};
        h = carried_on(h, schmalstieg_calendar_rate(g("first_V"), g("first_C") + 273.15), 365);
        h = carried_on(h, schmalstieg_calendar_rate(g("second_V"), g("second_C") + 273.15), 365);
        return 100 * history_loss(h);
      }},
     {"calendar_loss_percent",
      [](const Given& g) {
        const AgeingUse use = use_of(g);
        return 100 * aged(chemistry_of(g.text("chemistry")), {&use, 1}).calendar_loss;
      }},
     {"cycle_loss_percent",
      [](const Given& g) {
        const AgeingUse use = use_of(g);
        return 100 * aged(chemistry_of(g.text("chemistry")), {&use, 1}).cycle_loss;
      }},
     {"resistance_rise_percent",
      [](const Given& g) {
        const AgeingUse use = use_of(g);
        return 100 * (aged(chemistry_of(g.text("chemistry")), {&use, 1}).resistance_factor - 1);
      }},
     {"capacity_left",
      [](const Given& g) { return capacity_left(chemistry_of(g.text("chemistry")), use_of(g)); }}});

}  // namespace
