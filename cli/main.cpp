// SPDX-License-Identifier: MIT
// The command line: reads what was asked, runs it, prints it, and maps what happened to an exit
// code.
#include <CLI/CLI.hpp>
#include <array>
#include <chrono>
#include <csignal>
#include <exception>
#include <fstream>
#include <iostream>
#include <sstream>

#include <unistd.h>

#include "base/text.h"
#include "cli/choose_report.h"
#include "cli/drawings.h"
#include "cli/json.h"
#include "cli/lists.h"
#include "cli/paste_report.h"
#include "cli/reports.h"
#include "cli/serve_command.h"
#include "cli/session.h"
#include "cli/settings_report.h"
#include "cli/steps_report.h"
#include "cli/templates.h"
#include "cli/wiring_text.h"
#include "plan/dream.h"
#include "serve/explain.h"

namespace {

using namespace ww;
using namespace ww::cli;

int code(Exit exit) {
  return static_cast<int>(exit);
}

/// What was asked for.
struct Asked {
  Options options;
  std::string sheet, other, topic;
  std::string file;  ///< to write to; empty: standard output
  DrawAsk draw;
  std::string kind;  ///< of a pasted part
  ChooseAsk choose;
  StepsAsk steps;
  bool page = false;  ///< the steps as a page to print
  build::LogEntry done;
  build::OwnWire wire;
  std::string wire_length, wire_section, wire_torque;
};

/// Says what is wrong; true where the sheet cannot be used.
bool stop_on_errors(const Opened& opened, const Options& options) {
  if (opened.errors.empty()) return false;
  if (options.json) {
    std::cout << errors_json(opened.errors);
  } else {
    for (const auto& error : opened.errors) std::cerr << describe(error) << "\n";
  }
  return true;
}

int failed(const Opened& opened) {
  return code(opened.found ? Exit::bad_sheet : Exit::no_file);
}

/// Runs `work(opened, shipped)` on the sheet that was asked for, if it can be read.
template <class Work>
int with_sheet(const Asked& asked, const Work& work) {
  Shipped shipped = load_shipped();
  const Opened opened = open_sheet(asked.sheet, shipped, asked.options);
  if (stop_on_errors(opened, asked.options)) return failed(opened);
  return work(opened, shipped);
}

int run_check(const Asked& asked) {
  return with_sheet(asked, [&](const Opened& opened, const Shipped& shipped) {
    const Checked checked = check_build(opened.build, shipped, asked.options);
    std::cout << (asked.options.json ? check_json(opened, checked)
                                     : check_report(opened, checked, asked.options));
    return code(exit_of(opened.build, checked));
  });
}

int run_ride(const Asked& asked) {
  return with_sheet(asked, [&](const Opened& opened, const Shipped& shipped) {
    const auto ridden = plan::sketch(opened.build, shipped.library).build;
    const auto ride = ride_of(ridden, shipped, asked.options);
    std::cout << (asked.options.json ? ride_json(opened, ridden, ride)
                                     : ride_report(opened, ridden, ride, asked.options));
    return code(Exit::good);
  });
}

plan::PartsList list_of(const build::Build& build, const Shipped& shipped) {
  return plan::parts_list(build, shipped.library, shipped_goods());
}

int run_parts(const Asked& asked) {
  return with_sheet(asked, [&](Opened opened, const Shipped& shipped) {
    const Checked checked = check_build(opened.build, shipped, asked.options, false);
    // A half-empty sheet is priced with what the sketch puts in, as its ride is.
    auto list = list_of(checked.ridden, shipped);
    plan::note_clashes(list, checked.findings);
    plan::note_sketched(list, list_of(opened.build, shipped));
    opened.build = checked.ridden;
    std::cout << (asked.options.json ? parts_json(opened, list)
                                     : parts_report(opened, list, asked.options));
    return code(Exit::good);
  });
}

int run_measure(const Asked& asked) {
  return with_sheet(asked, [&](const Opened& opened, const Shipped& shipped) {
    const Checked checked = check_build(opened.build, shipped, asked.options, false);
    const auto list = plan::measuring_list(opened.build, checked.ride, checked.findings,
                                           list_of(opened.build, shipped));
    std::cout << (asked.options.json ? measuring_json(opened, list)
                                     : measuring_report(opened, list, asked.options));
    return code(Exit::good);
  });
}

int run_wiring(const Asked& asked) {
  return with_sheet(asked, [&](const Opened& opened, const Shipped& shipped) {
    const Checked checked = check_build(opened.build, shipped, asked.options, false);
    const Wired w = wired(checked);
    std::cout << (asked.options.json ? wiring_json(opened, checked, w)
                                     : wiring_text(opened, checked, w, asked.options));
    return code(Exit::good);
  });
}

int run_settings(const Asked& asked) {
  return with_sheet(asked, [&](const Opened& opened, const Shipped& shipped) {
    const build::Build build = plan::sketch(opened.build, shipped.library).build;
    std::cout << (asked.options.json ? settings_json(opened, build)
                                     : settings_text(opened, build, asked.options));
    return code(Exit::good);
  });
}

int write_out(const std::string& text, const std::string& file) {
  if (file.empty()) {
    std::cout << text;
    return code(Exit::good);
  }
  std::ofstream out(file, std::ios::binary);
  if (out << text && out.flush()) return code(Exit::good);
  std::cerr << file << ": cannot be written.\n";
  return code(Exit::no_file);
}

std::string today() {
  const std::time_t now = std::time(nullptr);
  std::tm local{};
  std::array<char, 16> text{};
  if (localtime_r(&now, &local) == nullptr) return {};
  const std::size_t length = std::strftime(text.data(), text.size(), "%Y-%m-%d", &local);
  return std::string(text.data(), length);
}

std::string no_such_step(const steps::Protocol& protocol, const std::string& id) {
  const std::string near = steps::nearest_step(protocol, id);
  return "this build has no step '" + id + "'." +
         (near.empty() ? "" : " Did you mean '" + near + "'?") + " `steps` lists them.\n";
}

int run_steps(const Asked& asked) {
  return with_sheet(asked, [&](const Opened& opened, const Shipped& shipped) {
    const Checked checked = check_build(opened.build, shipped, asked.options, false);
    const auto protocol = protocol_of(checked);
    if (!asked.steps.one.empty() && protocol.step(asked.steps.one) == nullptr) {
      std::cerr << no_such_step(protocol, asked.steps.one);
      return code(Exit::misuse);
    }
    if (asked.page)
      return write_out(steps_page(opened, protocol, asked.steps, asked.options), asked.file);
    return write_out(asked.options.json
                         ? steps_json(opened, protocol, asked.steps)
                         : steps_report(opened, checked, protocol, asked.steps, asked.options),
                     asked.file);
  });
}

/// What goes into the sheet: a wire with what was really taken, else an entry of the log.
Result<std::string> entry_of(const Asked& asked, const steps::Step& step,
                             const build::Build& build) {
  const bool details = !asked.wire.colour.empty() || !asked.wire_length.empty() ||
                       !asked.wire_section.empty() || !asked.wire_torque.empty() ||
                       !asked.wire.lug_from.empty() || !asked.wire.lug_to.empty();
  build::LogEntry entry = asked.done;
  if (entry.date.empty()) entry.date = today();
  if (!details) return log_text(entry);
  build::OwnWire wire = asked.wire;
  if (step.stage != steps::Stage::wires)
    return fail({.code = "no-wire",
                 .what = "colour, length, size, torque and lugs belong to a wire",
                 .found = step.id,
                 .expected = "a step such as wire-T3"});
  wire.label = step.id.substr(5);
  for (const auto& own : build.wires) {
    if (own.label == wire.label)
      return fail({.code = "twice",
                   .what = "this wire stands in the sheet already",
                   .found = wire.label,
                   .way_out = "Add laid = \"yes\" and what was taken to its [[wire]] there"});
  }
  if (lower(trim(entry.reading)) != "yes")
    return fail({.code = "bad-value",
                 .what = "what was taken is noted once the wire is in",
                 .found = entry.reading,
                 .expected = "yes"});
  wire.date = entry.date;
  wire.photo = entry.photo;
  wire.note = entry.note;
  return wire_text(wire, asked.wire_length, asked.wire_section, asked.wire_torque);
}

int run_done(const Asked& asked) {
  Shipped shipped = load_shipped();
  Options plain = asked.options;
  plain.sets.clear();  // the log speaks of the sheet as it is
  const Opened before = open_sheet(asked.sheet, shipped, plain);
  if (stop_on_errors(before, plain)) return failed(before);
  Checked checked = check_build(before.build, shipped, plain, false);
  const steps::Step* step = nullptr;
  const auto protocol = protocol_of(checked);
  step = protocol.step(asked.done.step);
  if (step == nullptr) {
    std::cerr << no_such_step(protocol, asked.done.step);
    return code(Exit::misuse);
  }
  if (step->from_sheet && step->stage != steps::Stage::wires) {
    std::cerr << asked.done.step << " is worked out from the sheet: nothing is logged for it.\n";
    return code(Exit::misuse);
  }
  const auto entry = entry_of(asked, *step, before.build);
  if (!entry) {
    std::cerr << describe(entry.error()) << "\n";
    return code(Exit::misuse);
  }
  // What is no reading is not kept: it says nothing of the bike.
  build::Build tried = checked.ridden;
  tried.log.push_back(asked.done);
  const auto judged = steps::protocol(tried, checked.ride);
  if (judged.step(asked.done.step)->reading() != nullptr &&
      !judged.step(asked.done.step)->reading()->refused.empty()) {
    std::cerr << asked.done.step << ": " << judged.step(asked.done.step)->reading()->refused
              << ". Nothing was logged.\n";
    return code(Exit::misuse);
  }
  const auto written = append_to_sheet(asked.sheet, *entry, shipped.library);
  if (!written) {
    std::cerr << describe(written.error()) << "\n";
    return code(written.error().code == "no-file" || written.error().code == "cannot-write"
                    ? Exit::no_file
                    : Exit::misuse);
  }
  const Opened after = open_sheet(asked.sheet, shipped, plain);
  if (stop_on_errors(after, plain)) return failed(after);
  checked = check_build(after.build, shipped, plain, false);
  const auto now = protocol_of(checked);
  StepsAsk ask;
  ask.one = asked.done.step;
  std::cout << (plain.json ? steps_json(after, now, ask)
                           : steps_report(after, checked, now, ask, plain));
  return code(now.step(ask.one)->verdict == steps::Verdict::within ? Exit::good : Exit::clash);
}

int run_learn(const Asked& asked) {
  return with_sheet(asked, [&](const Opened& opened, const Shipped& shipped) {
    const Checked checked = check_build(opened.build, shipped, asked.options, false);
    const auto lesson = steps::lesson_of(checked.ridden, protocol_of(checked));
    const auto moved = steps::moves(checked.ridden, lesson.learnt, [&](const build::Build& build) {
      return ride_of(build, shipped, asked.options);
    });
    if (!asked.file.empty()) {
      const auto sheet =
          build::write_sheet(steps::taught(opened.build, lesson.learnt), shipped.library);
      const int written = write_out(sheet, asked.file);
      if (written != code(Exit::good)) return written;
    }
    std::cout << (asked.options.json ? learn_json(opened, lesson, moved)
                                     : learn_report(opened, lesson, moved, asked.options));
    return code(Exit::good);
  });
}

int run_explain(const Asked& asked) {
  return with_sheet(asked, [&](const Opened& opened, const Shipped& shipped) {
    const Checked checked = check_build(opened.build, shipped, asked.options, false);
    std::string near;
    const std::string text =
        serve::explain(opened.build, checked, asked.topic, asked.options.units, near);
    if (text.empty()) {
      std::cerr
          << "nothing here is called '" << asked.topic << "'."
          << (near.empty() ? "" : " Did you mean '" + near + "'?")
          << " A rule, a figure, a derived number or an answer can be explained; `check --all` "
             "and `ride` print their names.\n";
      return code(Exit::misuse);
    }
    std::cout << (asked.options.json ? explain_json(opened, checked, asked.topic) : text);
    return code(Exit::good);
  });
}

int run_compare(const Asked& asked) {
  Shipped shipped = load_shipped();
  Options plain = asked.options;
  plain.sets.clear();  // --set changes the second sheet
  const Opened a = open_sheet(asked.sheet, shipped, plain);
  if (stop_on_errors(a, asked.options)) return failed(a);
  const Opened b =
      open_sheet(asked.other.empty() ? asked.sheet : asked.other, shipped, asked.options);
  if (stop_on_errors(b, asked.options)) return failed(b);
  const Checked checked_a = check_build(a.build, shipped, asked.options, false),
                checked_b = check_build(b.build, shipped, asked.options, false);
  std::cout << (asked.options.json ? compare_json(a, checked_a, b, checked_b)
                                   : compare_report(a, checked_a, b, checked_b, asked.options));
  return 0;
}

bool ends_in(const std::string& text, std::string_view end) {
  return text.size() >= end.size() && text.substr(text.size() - end.size()) == end;
}

int run_draw(const Asked& asked) {
  if (asked.topic.empty()) {
    std::cout << "What can be drawn of a sheet:\n" << drawing_names();
    return code(Exit::good);
  }
  Shipped shipped = load_shipped();
  const Opened opened = open_sheet(asked.sheet, shipped, asked.options);
  if (stop_on_errors(opened, asked.options)) return failed(opened);
  Options plain = asked.options;
  plain.sets.clear();
  const Opened before = open_sheet(asked.sheet, shipped, plain);
  DrawAsk ask = asked.draw;
  ask.name = asked.topic;
  ask.pdf = ask.pdf || ends_in(asked.file, ".pdf");
  if (ask.date.empty()) ask.date = today();
  const auto text = drawn(opened, &before, shipped, asked.options, ask);
  if (text) return write_out(*text, asked.file);
  std::cerr << describe(text.error()) << "\nWhat can be drawn of a sheet:\n" << drawing_names();
  return code(Exit::misuse);
}

volatile std::sig_atomic_t told_to_stop = 0;

/// Counts on standard error while the hunt goes on; ends it at a Ctrl-C or when its time is up.
class HuntWatch {
 public:
  explicit HuntWatch(double seconds) : seconds_(seconds), on_terminal_(isatty(STDERR_FILENO) == 1) {
    std::signal(SIGINT, [](int) {
      if (told_to_stop != 0) std::_Exit(130);
      told_to_stop = 1;
    });
  }
  HuntWatch(const HuntWatch&) = delete;
  HuntWatch& operator=(const HuntWatch&) = delete;
  ~HuntWatch() {
    std::signal(SIGINT, SIG_DFL);
    if (on_terminal_) std::cerr << "\r\033[K";
  }

  bool go_on() const { return told_to_stop == 0 && !(seconds_ > 0 && elapsed() > seconds_); }
  void tell(const search::Progress& progress) {
    const double now = elapsed();
    if (on_terminal_ && now - told_ > 0.2) {
      told_ = now;
      std::cerr << "\r" << 100 * progress.tasks_done / progress.tasks << " %, " << progress.ridden
                << " ridden, " << progress.records << " left; Ctrl-C ends it" << std::flush;
    }
  }

 private:
  double elapsed() const {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start_).count();
  }
  double seconds_, told_ = 0;
  bool on_terminal_;
  std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
};

int run_choose(const Asked& asked) {
  const build::Library shipped_only = load_shipped().library;
  return with_sheet(asked, [&](const Opened& opened, const Shipped& shipped) {
    const auto understood = understand(opened.build, asked.choose, shipped.library, shipped_only);
    if (!understood) {
      std::cerr << describe(understood.error()) << "\n";
      return code(Exit::misuse);
    }
    if (understood->ask.open == 0) {
      std::cerr << "nothing is open: every part on the sheet is here or ordered. Name what may "
                   "change, e.g. --open cell,series,parallel.\n";
      return code(Exit::misuse);
    }
    const auto goods = shipped_goods();
    const search::Shop shop{shipped.library, goods, shipped.cycles};
    search::HuntOptions options;
    options.runner = run_on_cores;
    HuntWatch watch(asked.choose.seconds);
    options.go_on = [&] { return watch.go_on(); };
    options.watch = [&](const search::Progress& progress) {
      watch.tell(progress);
      return true;
    };
    const auto chosen =
        search::choose(opened.build, shop, understood->ask, understood->wishes, options);
    if (asked.choose.why.empty()) {
      search::DoubtOptions doubting;
      doubting.runner = run_on_cores;
      const auto doubts = search::doubts(chosen, doubting);
      std::cout << (asked.options.json
                        ? choose_json(opened, chosen, doubts, shop)
                        : choose_report(opened, chosen, doubts, shop, asked.options));
      return code(chosen.loose || chosen.list.empty() ? Exit::clash : Exit::good);
    }
    const auto slash = asked.choose.why.find('/');
    const int axis = search::axis_of(asked.choose.why.substr(0, slash));
    const std::string id =
        slash == std::string::npos ? std::string() : asked.choose.why.substr(slash + 1);
    const auto why = axis < 0 ? search::WhyNot{}
                              : search::why_not(opened.build, shop, understood->ask, chosen,
                                                static_cast<search::Axis>(axis), id, options);
    if (!why.known) {
      std::cerr << "no part '" << asked.choose.why
                << "'. Expected shelf/id, e.g. motor/harrowmere-hornbeam.\n";
      return code(Exit::misuse);
    }
    std::cout << why_report(chosen, why, asked.choose.why, asked.options);
    return code(Exit::good);
  });
}

int run_donors(const Asked& asked) {
  return with_sheet(asked, [&](const Opened& opened, const Shipped& shipped) {
    const auto goods = shipped_goods();
    const auto list = search::donors(opened.build, {shipped.library, goods, shipped.cycles});
    if (list.empty()) {
      std::cerr << "no distance is wished for: give wishes.ride_distance, e.g. --set "
                   "\"wishes.ride_distance=80 km\".\n";
      return code(Exit::misuse);
    }
    std::cout << donors_report(opened, list, asked.options);
    return code(Exit::good);
  });
}

int run_claim(const Asked& asked) {
  const auto claim = search::read_claim(asked.topic);
  if (!claim) {
    std::cerr << describe(claim.error()) << "\n";
    return code(Exit::misuse);
  }
  if (asked.sheet.empty()) {
    const auto terms = search::take_apart(*claim, {}, asked.options.units);
    std::cout << claim_report(asked.topic, terms, false);
    return code(Exit::good);
  }
  return with_sheet(asked, [&](const Opened& opened, const Shipped&) {
    const auto terms = search::take_apart(*claim, opened.build, asked.options.units);
    std::cout << claim_report(asked.topic, terms, true);
    return code(Exit::good);
  });
}

int run_new(const Asked& asked) {
  std::string text = new_sheet(asked.topic);
  if (text.empty()) text = std::string(embedded("data/demo/" + asked.topic + ".toml").value_or(""));
  if (text.empty()) {
    std::cerr << "no template '" << asked.topic << "'. There are: " << join(template_names(), ", ")
              << ", and the demos " << join(demo_names(), ", ") << ".\n";
    return code(Exit::misuse);
  }
  std::cout << text;
  return 0;
}

/// A file, or standard input for "-"; not more of it than the reader takes.
bool read_listing(const std::string& path, std::string& out) {
  std::ifstream file;
  if (path != "-") file.open(path, std::ios::binary);
  std::istream& in = path == "-" ? std::cin : file;
  if (!in) return false;
  out.resize(plan::paste_bytes_max + 1);
  in.read(out.data(), static_cast<std::streamsize>(out.size()));
  out.resize(static_cast<std::size_t>(in.gcount()));
  return !in.bad();
}

int run_paste(const Asked& asked) {
  std::string bytes;
  if (!read_listing(asked.sheet, bytes)) {
    std::cerr << asked.sheet << ": the listing cannot be read.\n";
    return code(Exit::no_file);
  }
  const auto pasted = plan::read_paste(bytes, {.kind = asked.kind, .today = today()});
  std::cout << (asked.options.json ? paste_json(pasted) : paste_report(pasted));
  return code(Exit::good);
}

int run(int argc, char** argv) {
  CLI::App app{
      "Wattwright: from a rolling chassis and a wish list to an electric motorcycle whose parts "
      "fit each other."};
  app.require_subcommand(0, 1);
  Asked asked;
  std::string units;
  const auto common = [&](CLI::App* command) {
    command->add_option("sheet", asked.sheet, "a build sheet, or the name of a demo")->required();
    command->add_option("--set", asked.options.sets,
                        "what if: path=value, e.g. gearing.rear_teeth=52");
    command->add_option("--parts", asked.options.part_files, "a file with your own parts");
    command->add_option("--units", units, "metric or imperial; else by the locale")
        ->check(CLI::IsMember({"metric", "imperial"}));
    command->add_flag("--json", asked.options.json, "for machines: docs/json.md");
    command->add_flag("--all", asked.options.all, "list what fits, too");
    return command;
  };
  struct Command {
    CLI::App* app;
    int (*run)(const Asked&);
  };
  std::vector<Command> commands;
  commands.push_back(
      {common(app.add_subcommand("check", "what fits, what clashes, what it will do")),
       &run_check});
  commands.push_back(
      {common(app.add_subcommand("ride", "every answer about the road")), &run_ride});
  commands.push_back(
      {common(app.add_subcommand("parts", "everything to buy, what is missing, what must wait")),
       &run_parts});
  commands.push_back(
      {common(app.add_subcommand("measure", "what to measure next, and how")), &run_measure});
  commands.push_back(
      {common(app.add_subcommand(
           "wiring", "the circuit: every wire with its size, lug, fuse, colour, and the sums")),
       &run_wiring});
  commands.push_back(
      {common(app.add_subcommand(
           "settings", "every number typed into controller, monitor and charger, in order")),
       &run_settings});
  CLI::App* steps_command = common(app.add_subcommand(
      "steps", "pack, wires, first power-up, first rides: step by step, with what must be read"));
  steps_command->add_option("--stage", asked.steps.stage, "pack, wires, power or ride")
      ->check(CLI::IsMember({"pack", "wires", "power", "ride"}));
  steps_command->add_option("--step", asked.steps.one, "this one alone");
  steps_command->add_flag("--next", asked.steps.next,
                          "what may be done now; what is open and live");
  steps_command->add_flag("--page", asked.page, "a page to print: large type, boxes to tick");
  steps_command->add_option("-o,--out", asked.file, "write to this file, not to standard output");
  commands.push_back({steps_command, &run_steps});
  CLI::App* done_command = app.add_subcommand(
      "done", "log a step in your sheet: what was read, with what, when; says whether it passes");
  done_command->add_option("sheet", asked.sheet, "your sheet; the entry is added at its end")
      ->required();
  done_command->add_option("step", asked.done.step, "the step, as `steps` names it")->required();
  done_command->add_option("reading", asked.done.reading, "with its unit; or yes, or no")
      ->required();
  done_command->add_option("--instrument", asked.done.instrument, "what it was read with");
  done_command->add_option("--date", asked.done.date, "the day; else today");
  done_command->add_option("--photo", asked.done.photo, "file of the photograph");
  done_command->add_option("--note", asked.done.note, "what else is worth keeping");
  done_command->add_option("--colour", asked.wire.colour, "of a wire, as laid");
  done_command->add_option("--route", asked.wire.route, "of a wire, as laid");
  done_command->add_option("--length", asked.wire_length, "of a wire, as laid");
  done_command->add_option("--section", asked.wire_section, "of a wire, as laid");
  done_command->add_option("--torque", asked.wire_torque, "its bolts were tightened to");
  done_command->add_option("--lug-from", asked.wire.lug_from, "lug at its first end, as taken");
  done_command->add_option("--lug-to", asked.wire.lug_to, "lug at its other end, as taken");
  done_command->add_option("--parts", asked.options.part_files, "a file with your own parts");
  done_command->add_flag("--json", asked.options.json, "for machines: docs/json.md");
  commands.push_back({done_command, &run_done});
  CLI::App* learn_command = common(app.add_subcommand(
      "learn", "readings that passed, as measured figures of the sheet, and what that moves"));
  learn_command->add_option("-o,--out", asked.file, "write the sheet so taught to this file");
  commands.push_back({learn_command, &run_learn});
  CLI::App* explain_command = common(
      app.add_subcommand("explain", "a rule, a figure or an answer, with the numbers in it"));
  explain_command->add_option("topic", asked.topic, "its name")->required();
  commands.push_back({explain_command, &run_explain});
  CLI::App* compare_command =
      common(app.add_subcommand("compare", "two sheets, or one with and without --set"));
  compare_command->add_option("other", asked.other,
                              "the second sheet; the same where --set changes it");
  commands.push_back({compare_command, &run_compare});
  CLI::App* draw_command = common(app.add_subcommand(
      "draw",
      "the bike to scale, the wiring on pages, or a chart, as SVG; without a name: what there is"));
  draw_command->add_option("what", asked.topic, "side, top, schematic, or another name");
  draw_command->add_option("-o,--out", asked.file, "write to this file, not to standard output");
  draw_command->add_option("--width", asked.draw.width_px, "lettered for so many pixels of width")
      ->check(CLI::Range(240.0, 4000.0));
  draw_command->add_flag("--csv", asked.draw.csv,
                         "the numbers of a chart or a list, comma separated");
  draw_command->add_flag("--pdf", asked.draw.pdf,
                         "as PDF, every page; of itself where --out ends in .pdf");
  draw_command->add_option("--page", asked.draw.page, "which page as SVG; the first without it");
  draw_command->add_option("--date", asked.draw.date, "for the title block; today without it");
  draw_command
      ->add_option("--charge", asked.draw.charge, "state of charge for the pack's taps, 0 to 1")
      ->check(CLI::Range(0.0, 1.0));
  draw_command->add_flag("--before", asked.draw.before,
                         "with --set: the curves without it behind the new ones");
  commands.push_back({draw_command, &run_draw});
  CLI::App* choose_command = common(app.add_subcommand(
      "choose",
      "what to buy: every combination that fits, ridden; the few worth choosing between"));
  choose_command
      ->add_option("--open", asked.choose.open, "what may change, or all; else what is not here")
      ->delimiter(',');
  choose_command->add_option("--keep", asked.choose.keep, "what may not change")->delimiter(',');
  choose_command->add_option("--without", asked.choose.without, "never this part: shelf/id");
  choose_command
      ->add_option("--must", asked.choose.musts, "only these wishes are musts; else every one")
      ->delimiter(',');
  choose_command
      ->add_option("--want", asked.choose.wants, "weigh it: distance=3; 0: does not count")
      ->delimiter(',');
  choose_command->add_option("--why", asked.choose.why, "why not this part: shelf/id");
  choose_command->add_option("--seconds", asked.choose.seconds, "stop then, with what is there")
      ->check(CLI::Range(0.0, 86400.0));
  commands.push_back({choose_command, &run_choose});
  CLI::App* donors_command = app.add_subcommand(
      "donors", "which class of bike carries the pack that the wishes need, and when to walk away");
  donors_command->add_option("sheet", asked.sheet, "a build sheet, or the name of a demo")
      ->required();
  donors_command->add_option("--set", asked.options.sets, "what if: path=value");
  donors_command->add_option("--units", units, "metric or imperial; else by the locale")
      ->check(CLI::IsMember({"metric", "imperial"}));
  commands.push_back({donors_command, &run_donors});
  CLI::App* claim_command =
      app.add_subcommand("claim", "what a seller says, taken apart: '8 kW, 100 km/h'");
  claim_command->add_option("claim", asked.topic, "the claim, as it is said")->required();
  claim_command->add_option("--sheet", asked.sheet, "the bike it is held against");
  claim_command->add_option("--units", units, "metric or imperial; else by the locale")
      ->check(CLI::IsMember({"metric", "imperial"}));
  commands.push_back({claim_command, &run_claim});
  CLI::App* new_command =
      app.add_subcommand("new", "a new sheet to start from, on standard output");
  new_command->add_option("template", asked.topic, "dream, two-parts, full, or a demo's name")
      ->required();
  commands.push_back({new_command, &run_new});
  ServeOptions serving;
  CLI::App* serve_command =
      app.add_subcommand("serve", "the garage and its page; the same as no command at all");
  CLI::Option* port = serve_command->add_option("--port", serving.port, "0: any that is free")
                          ->check(CLI::Range(0, 65535));
  serve_command->add_option("--garage", serving.garage, "the file that keeps your builds");
  serve_command->add_flag("--lan", serving.lan,
                          "answer phones in this network, too: at home only, not encrypted");
  bool no_browser = false;
  serve_command->add_flag("--no-browser", no_browser, "print the address, open nothing");
  app.set_version_flag("--version", "wattwright " WW_VERSION);
  CLI::App* paste_command = app.add_subcommand(
      "paste", "a seller's listing as text: what it says, what it leaves open, the part");
  paste_command->add_option("file", asked.sheet, "a text file, or - for standard input")
      ->required();
  paste_command
      ->add_option("--kind", asked.kind, "what is sold, e.g. motor; else read from the text")
      ->check(CLI::IsMember(paste_kinds()));
  paste_command->add_flag("--json", asked.options.json, "for machines: docs/json.md");
  commands.push_back({paste_command, &run_paste});
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& problem) {
    return app.exit(problem) == 0 ? 0 : code(Exit::misuse);
  }
  asked.options.units =
      units.empty() ? units_of_locale()
                    : (units == "imperial" ? figure::System::imperial : figure::System::metric);
  for (const Command& command : commands) {
    if (command.app->parsed()) return command.run(asked);
  }
  serving.port_given = port->count() > 0;
  serving.browser = !no_browser;
  serving.units = asked.options.units;
  return code(serve_page(serving));
}

}  // namespace

int main(int argc, char** argv) {
  try {
    return run(argc, argv);
  } catch (const std::exception& problem) {
    std::cerr << "a mistake of ours: " << problem.what() << "\n";
    return static_cast<int>(Exit::our_mistake);
  }
}
