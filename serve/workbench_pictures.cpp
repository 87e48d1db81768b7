// SPDX-License-Identifier: MIT
// The workbench's drawings and charts.
#include "draw/svg.h"
#include "prints/prints.h"
#include "serve/workbench_impl.h"
#include "views/plots.h"
#include "views/views.h"

namespace ww::serve {

namespace {

views::Subject subject_of(const Looked& looked) {
  return {.build = &looked.checked.ridden,
          .ride = &looked.checked.ride,
          .units = looked.units,
          .detail = nullptr,
          .findings = &looked.checked.findings,
          .list = &looked.list};
}

tl::unexpected<Refusal> no_print(const std::string& key) {
  Error error{
      .code = "no-print", .what = "there is no such page", .found = key.substr(0, api::path_max)};
  return tl::unexpected<Refusal>(
      Refusal{.status = 404, .problems = {problem_of(error)}, .stale = {}});
}

struct PrintHead {
  std::string name, day;
  api::Integer charge_percent = 50;
};

prints::Print print_of(const Looked& looked, const prints::Entry& entry, const PrintHead& head) {
  const auto made = prints::electrics(looked.checked.ridden, &looked.own, looked.checked.ride);
  return entry.make({.build = &looked.checked.ridden,
                     .circuit = &made.circuit,
                     .sizing = &made.sizing,
                     .ride = &looked.checked.ride,
                     .name = head.name,
                     .date = head.day,
                     .units = looked.units,
                     .charge = 0.01 * static_cast<double>(head.charge_percent)});
}

tl::unexpected<Refusal> no_plot(const std::string& key) {
  Error error{
      .code = "no-plot", .what = "there is no such chart", .found = key.substr(0, api::path_max)};
  return tl::unexpected<Refusal>(
      Refusal{.status = 404, .problems = {problem_of(error)}, .stale = {}});
}

api::PlotTable shown_table(const draw::Chart& chart) {
  const auto table = draw::table_of(chart);
  api::PlotTable out{.columns = table.heads, .rows = {}};
  for (const auto& row : table.rows) {
    auto& cells = out.rows.emplace_back();
    for (const auto& cell : row) cells.push_back(cell.text);
  }
  return out;
}

}  // namespace

Reply<File> Workbench::view(api::Integer build, View view, double width_px) {
  const auto now = impl_->current(build);
  if (!now) return refused(now.error());
  const auto looked = impl_->lookout.first(now->job);
  const views::ViewOptions options{.width_px = width_px,
                                   .units = looked->units,
                                   .flags = views::flags_of(looked->checked.findings),
                                   .own = &looked->own};
  const auto drawing = view == View::side ? views::side_view(looked->checked.ridden, options)
                                          : views::top_view(looked->checked.ridden, options);
  return File{.media = "image/svg+xml",
              .bytes = draw::svg_of(drawing, {.standing = draw::Standing::in_page}),
              .name = {}};
}

Reply<std::vector<api::PlotName>> Workbench::plots(api::Integer build) {
  const auto now = impl_->current(build);
  if (!now) return refused(now.error());
  std::vector<api::PlotName> out;
  for (const auto& chart : views::chart_list())
    out.push_back({std::string(chart.key), std::string(chart.label)});
  return out;
}

Reply<api::Plot> Workbench::plot(api::Integer build, const std::string& key,
                                 std::optional<api::Integer> ghost, double width_px) {
  const auto now = impl_->current(build);
  if (!now) return refused(now.error());
  const auto* entry = views::find_chart(key);
  if (entry == nullptr) return no_plot(key);
  const auto looked = impl_->lookout.first(now->job);
  draw::Chart chart = entry->make(subject_of(*looked));
  if (ghost) {
    const auto text = impl_->text_at(now->head, *ghost);
    if (!text) return refused(text.error());
    LookJob job = now->job;
    job.key.revision = *ghost;
    job.text = *text;
    const auto before = impl_->lookout.first(job);
    chart = draw::with_ghost(std::move(chart), entry->make(subject_of(*before)));
  }
  return api::Plot{.key = key,
                   .title = chart.title,
                   .says = chart.says,
                   .missing = chart.missing,
                   .svg = draw::svg_of(draw::drawing_of(chart, {.width_px = width_px}),
                                       {.standing = draw::Standing::in_page}),
                   .table = shown_table(chart)};
}

Reply<File> Workbench::plot_file(api::Integer build, const std::string& key, bool csv) {
  const auto now = impl_->current(build);
  if (!now) return refused(now.error());
  const auto* entry = views::find_chart(key);
  if (entry == nullptr) return no_plot(key);
  const auto looked = impl_->lookout.first(now->job);
  const draw::Chart chart = entry->make(subject_of(*looked));
  const std::string name = "build-" + std::to_string(build) + "-" + key;
  if (csv)
    return File{
        .media = "text/csv; charset=utf-8", .bytes = draw::csv_of(chart), .name = name + ".csv"};
  return File{.media = "image/svg+xml",
              .bytes = draw::svg_of(draw::drawing_of(chart)),
              .name = name + ".svg"};
}

Reply<std::vector<api::PrintName>> Workbench::prints(api::Integer build) {
  const auto now = impl_->current(build);
  if (!now) return refused(now.error());
  const auto looked = impl_->lookout.first(now->job);
  std::vector<api::PrintName> out;
  for (const auto& entry : prints::print_list()) {
    const auto print = print_of(*looked, entry, {now->name, impl_->today()});
    out.push_back(
        {std::string(entry.key), print.title, static_cast<api::Integer>(print.pages.size())});
  }
  return out;
}

Reply<File> Workbench::print(api::Integer build, const PrintAsk& ask) {
  const auto now = impl_->current(build);
  if (!now) return refused(now.error());
  const auto* entry = prints::find_print(ask.key);
  if (entry == nullptr) return no_print(ask.key);
  const auto looked = impl_->lookout.first(now->job);
  const auto print = print_of(*looked, *entry, {now->name, impl_->today(), ask.charge_percent});
  const std::string name = "build-" + std::to_string(build) + "-" + ask.key;
  if (ask.as == PrintAs::csv)
    return File{.media = "text/csv; charset=utf-8", .bytes = print.csv, .name = name + ".csv"};
  if (ask.as == PrintAs::pdf)
    return File{.media = "application/pdf",
                .bytes = prints::pdf_of(print, impl_->today()),
                .name = name + ".pdf"};
  if (ask.page < 1 || ask.page > static_cast<api::Integer>(print.pages.size()))
    return no_print(ask.key);
  const auto page = static_cast<std::size_t>(ask.page - 1);
  if (ask.as == PrintAs::svg)
    return File{.media = "image/svg+xml",
                .bytes = prints::svg_of(print, page),
                .name = name + "-" + std::to_string(ask.page) + ".svg"};
  return File{.media = "image/svg+xml",
              .bytes = draw::svg_of(print.pages[page], {.standing = draw::Standing::in_page}),
              .name = {}};
}

}  // namespace ww::serve
