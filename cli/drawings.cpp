// SPDX-License-Identifier: MIT
#include "cli/drawings.h"

#include "base/text.h"
#include "cli/reports.h"
#include "draw/pdf.h"
#include "draw/svg.h"
#include "plan/dream.h"
#include "plan/parts_list.h"
#include "prints/prints.h"
#include "views/plots.h"
#include "views/views.h"

namespace ww::cli {

namespace {

struct View {
  std::string_view name, label;
  draw::Drawing (*make)(const build::Build&, const views::ViewOptions&);
};
constexpr View all_views[] = {{"side", "the bike from its left side, to scale", &views::side_view},
                              {"top", "the bike from above, to scale", &views::top_view}};

/// As SVG, or as a page of 96 px to the inch.
Result<std::string> written(const draw::Drawing& drawing, const DrawAsk& ask) {
  if (!ask.pdf) return draw::svg_of(drawing);
  std::string bytes =
      draw::pdf_of({&drawing, 1}, {.title = {}, .date = ask.date, .of_the_paper = false});
  if (bytes.empty()) return fail({.code = "no-pdf", .what = "the PDF could not be written"});
  return bytes;
}

Result<std::string> printed(const prints::Entry& entry, const Opened& opened,
                            const Shipped& shipped, const Options& options, const DrawAsk& ask) {
  const build::Build ridden = plan::sketch(opened.build, shipped.library).build;
  // Wires are sized on the ride as it is expected; its spread tells them nothing.
  Options plain = options;
  plain.draws = 0;
  const ride::Ride ride = ride_of(ridden, shipped, plain);
  const auto made = prints::electrics(ridden, &opened.build, ride);
  const prints::Print print = entry.make(
      {.build = &ridden,
       .circuit = &made.circuit,
       .sizing = &made.sizing,
       .ride = &ride,
       .name = opened.build.project.name.empty() ? opened.name : opened.build.project.name,
       .date = ask.date,
       .units = options.units,
       .charge = ask.charge});
  if (ask.csv) return print.csv;
  if (ask.pdf) {
    std::string bytes = prints::pdf_of(print, ask.date);
    if (bytes.empty()) return fail({.code = "no-pdf", .what = "the PDF could not be written"});
    return bytes;
  }
  const auto count = static_cast<int>(print.pages.size());
  if (ask.page < 1 || ask.page > count)
    return fail({.code = "no-page",
                 .what = "'" + ask.name + "' has " + std::to_string(count) + " pages, not a page " +
                         std::to_string(ask.page)});
  return prints::svg_of(print, static_cast<std::size_t>(ask.page - 1));
}

draw::Drawing view_of(const View& view, const Opened& opened, const Shipped& shipped,
                      const Options& options, const DrawAsk& ask) {
  const Checked checked = check_build(opened.build, shipped, options, false);
  const views::ViewOptions how{.width_px = ask.width_px,
                               .units = options.units,
                               .flags = views::flags_of(checked.findings),
                               .own = &opened.build};
  return view.make(checked.ridden, how);
}

draw::Chart chart_of(const views::ChartEntry& entry, const Opened& opened, const Shipped& shipped,
                     const Options& options) {
  Checked checked;
  if (entry.needs_findings) {
    checked = check_build(opened.build, shipped, options, false);
  } else {
    checked.ridden = plan::sketch(opened.build, shipped.library).build;
    checked.ride = ride_of(checked.ridden, shipped, options);
  }
  const auto list = plan::parts_list(checked.ridden, shipped.library, shipped_goods());
  return entry.make({.build = &checked.ridden,
                     .ride = &checked.ride,
                     .units = options.units,
                     .findings = entry.needs_findings ? &checked.findings : nullptr,
                     .list = &list});
}

}  // namespace

std::string drawing_names() {
  std::string out;
  const auto line = [&](std::string_view name, std::string_view label) {
    out += "  " + std::string(name) +
           std::string(14 - std::min<std::size_t>(name.size(), 13), ' ') + std::string(label) +
           "\n";
  };
  for (const View& view : all_views) line(view.name, view.label);
  for (const auto& entry : prints::print_list()) line(entry.key, entry.label);
  for (const auto& entry : views::chart_list()) line(entry.key, entry.label);
  return out;
}

std::vector<std::string_view> drawing_name_list() {
  std::vector<std::string_view> names;
  for (const View& view : all_views) names.push_back(view.name);
  for (const auto& entry : prints::print_list()) names.push_back(entry.key);
  for (const auto& entry : views::chart_list()) names.push_back(entry.key);
  return names;
}

Result<std::string> drawn(const Opened& opened, const Opened* plain, const Shipped& shipped,
                          const Options& options, const DrawAsk& ask) {
  for (const View& view : all_views) {
    if (view.name != ask.name) continue;
    if (ask.csv)
      return fail(
          {.code = "no-numbers", .what = "a view of the bike has no table; --csv is for charts"});
    return written(view_of(view, opened, shipped, options, ask), ask);
  }
  if (const auto* print = prints::find_print(ask.name); print != nullptr)
    return printed(*print, opened, shipped, options, ask);
  const auto* entry = views::find_chart(ask.name);
  if (entry == nullptr)
    return fail({.code = "unknown-drawing",
                 .what = "nothing to draw is called '" + ask.name + "'",
                 .way_out = did_you_mean(ask.name, drawing_name_list())});
  draw::Chart chart = chart_of(*entry, opened, shipped, options);
  if (ask.before && plain != nullptr)
    chart = draw::with_ghost(std::move(chart), chart_of(*entry, *plain, shipped, options));
  if (ask.csv) return draw::csv_of(chart);
  return written(draw::drawing_of(chart, {.width_px = ask.width_px}), ask);
}

}  // namespace ww::cli
