// SPDX-License-Identifier: MIT
// Charts of money and time: how likely it is that so much is enough.
#include <cmath>

#include "base/text.h"
#include "plan/dream.h"
#include "plan/parts_list.h"
#include "views/plot_parts.h"

namespace ww::views {

namespace {

using draw::Across;
using draw::Chart;
using draw::Curve;
using draw::Dash;
using draw::Ink;
using draw::Plot;
using draw::Sign;

/// The normal quantile of nine in ten.
constexpr double z_p90 = 1.2815515655446004;

/// Share of a normal spread below z, in per cent.
double per_cent_below(double z) {
  return 50 * std::erfc(-z / std::sqrt(2.0));
}

/// "31 in 100", and never the certainty that no estimate has.
std::string in_a_hundred(double per_cent) {
  if (per_cent < 1) return "less than 1 in 100";
  if (per_cent > 99) return "more than 99 in 100";
  return "about " + fixed(per_cent, 0) + " in 100";
}

/// An amount that a tenth, half and nine tenths of such builds stay below.
struct Tenths {
  double low, middle, high;
};

/// Bell-shaped on either side of the middle, in the amount or, where `in_logs`, in its logarithm.
class Chance {
 public:
  Chance(const Tenths& t, bool in_logs)
      : in_logs_(in_logs),
        middle_(scaled(t.middle)),
        below_((middle_ - scaled(t.low)) / z_p90),
        above_((scaled(t.high) - middle_) / z_p90) {}
  double of(double amount) const {
    const double d = scaled(amount) - middle_;
    return per_cent_below(d / (d < 0 ? below_ : above_));
  }
  double amount_at(double z) const {
    const double x = middle_ + z * (z < 0 ? below_ : above_);
    return in_logs_ ? std::exp(x) : x;
  }

 private:
  double scaled(double amount) const { return in_logs_ ? std::log(amount) : amount; }
  bool in_logs_;
  double middle_, below_, above_;
};

Plot chance_plot(const Tenths& t, bool in_logs) {
  const Chance chance(t, in_logs);
  Curve curve{.label = "chance", .points = {}, .ink = Ink::accent, .width = 2.2, .labelled = false};
  // To where one in forty is beyond: the far tail of a spread is nobody's knowledge.
  for (int i = -25; i <= 20; ++i) {
    const double amount = chance.amount_at(i / 10.0);
    if (amount >= 0) curve.points.push_back({amount, per_cent_below(i / 10.0)});
  }
  Plot plot;
  plot.curves = {std::move(curve)};
  plot.markers = {{{t.low, 10}, "one in ten", Sign::ring},
                  {{t.middle, 50}, "even chances", Sign::ring},
                  {{t.high, 90}, "nine in ten", Sign::ring}};
  return plot;
}

Chart chance_chart(const Subject& s, const char* key, const char* title) {
  Chart chart{.key = key, .title = title, .says = {}, .missing = {}};
  chart.y = {.label = "chance that it is enough", .unit = "%", .range = draw::Range{0, 100}};
  if (s.list == nullptr || s.list->total <= 0) chart.missing = "There is no parts list yet.";
  return chart;
}

}  // namespace

Chart money_chart(const Subject& s) {
  Chart chart = chance_chart(s, "money", "What the money in all may come to");
  const std::string& currency = s.build->project.currency;
  chart.x = {.label = "money in all", .unit = currency};
  if (!chart.missing.empty()) return chart;
  const Tenths t{double(s.list->total_low) / 100, double(s.list->total) / 100,
                 double(s.list->total_high) / 100};
  if (!(t.low < t.middle && t.middle < t.high)) {
    chart.missing = "Every price is exact: there is nothing to spread.";
    return chart;
  }
  const auto told = [&](double amount) {
    return plan::round_money_text(std::llround(amount * 100)) +
           (currency.empty() ? "" : " " + currency);
  };
  Plot plot = chance_plot(t, false);
  chart.says = "Even chances at " + told(t.middle) + ", nine in ten at " + told(t.high) + ".";
  if (const double budget = at(s, "wishes.budget"); budget > 0) {
    plot.references.push_back({Across::x, budget, "money there is", Dash::dashed});
    chart.says +=
        " " + told(budget) + " is enough: " + in_a_hundred(Chance(t, false).of(budget)) + ".";
  }
  chart.notes.emplace_back(
      "The sum of the parts list with its contingency, taken as a normal spread. Prices of the "
      "library are invented; what is not on the list is not in it.");
  chart.body = std::move(plot);
  return chart;
}

Chart months_chart(const Subject& s) {
  Chart chart = chance_chart(s, "months", "How long it may take");
  chart.x = {.label = "time to the first ride", .unit = "months", .range = {}, .from_zero = true};
  if (!chart.missing.empty()) return chart;
  const auto calendar = plan::calendar(*s.build);
  const Tenths t{calendar.months_low, calendar.months_usual, calendar.months_high};
  Plot plot = chance_plot(t, true);
  chart.says = "Even chances after " + fixed(t.middle, 1) + " months; one in ten takes more than " +
               fixed(t.high, 0) + ".";
  constexpr double month_s = 365.25 / 12 * 86400;
  if (const double wish = at(s, "wishes.months") / month_s; wish > 0) {
    plot.references.push_back({Across::x, wish, "riding by", Dash::dashed});
    chart.says += " " + fixed(wish, 1) +
                  " months are enough: " + in_a_hundred(Chance(t, true).of(wish)) + ".";
  }
  if (s.list->longest_lead_weeks > 0)
    plot.references.push_back({Across::x, s.list->longest_lead_weeks * 7 * 86400 / month_s,
                               "longest wait: " + s.list->longest_lead, Dash::dotted});
  chart.notes.emplace_back(
      fixed(calendar.hours_low, 0) + ", " + fixed(calendar.hours_usual, 0) + " and " +
      fixed(calendar.hours_high, 0) +
      " hours of work as one in ten, the middle and nine in ten, at the hours a week on the sheet, "
      "else 12: common practice, no source. Between them a curve, no measurement.");
  chart.body = std::move(plot);
  return chart;
}

}  // namespace ww::views
