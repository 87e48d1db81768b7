// SPDX-License-Identifier: MIT
// What the page can ask, answered from the garage; knows no socket. Each function is one line of
// the table in docs/api.md. Invariants:
// 1. A call that is refused has written nothing.
// 2. An edit is written with all its changes or not at all, and only on the revision it was made
// on.
// 3. A state comes at once from few draws; the full one is worked out behind it, newest first, and
// told as an event. What a newer revision has overtaken is dropped.
// 4. All calls may come from any thread.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "garage/garage.h"
#include "ride/ride.h"
#include "serve/api.h"
#include "serve/shipped.h"

namespace ww::serve {

/// Why a call was not done. `stale` is set where the build has moved on: status 409.
struct Refusal {
  int status = 400;
  std::vector<api::Problem> problems = {};
  std::shared_ptr<const api::Stale> stale = {};
};
template <class T>
using Reply = Result<T, Refusal>;

/// A file as it goes out.
struct File {
  std::string media, bytes;
  std::string name = {};  ///< for a download; empty: shown
};

class Workbench {
 public:
  struct Setup {
    figure::System units = figure::System::metric;  ///< until the builder chooses
    std::function<std::string()> now;               ///< ISO 8601 time
    ride::Runner runner = run_on_cores;
    /// Called for every event, from any thread: its name and its JSON.
    std::function<void(const std::string& event, const std::string& json)> tell = {};
    std::string version = {};
    std::string lan = {};    ///< address in the house's network; empty: this machine only
    bool background = true;  ///< false: the full state is worked out by the call that waits for it
  };

  Workbench(garage::Garage& garage, Shipped shipped, Setup setup);
  ~Workbench();
  Workbench(const Workbench&) = delete;
  Workbench& operator=(const Workbench&) = delete;

  api::Schema schema() const;
  Reply<api::Garage> garage() const;
  Reply<api::Units> choose_units(const api::Units& units);
  /// The whole garage as one file, while it is in use.
  Reply<File> backup() const;

  // ---- a build
  Reply<api::State> create(const api::NewBuild& made);
  Reply<api::State> import_sheet(const api::Import& sheet);
  /// `full`: waits until the full one is there.
  Reply<api::State> state(api::Integer build, bool full);
  Reply<api::State> edit(api::Integer build, const api::Edit& edit);
  Reply<api::Preview> preview(api::Integer build, const api::Edit& edit);
  Reply<api::State> undo(api::Integer build, const api::Base& base);
  Reply<api::State> redo(api::Integer build, const api::Base& base);
  Reply<std::vector<api::Revision>> history(api::Integer build,
                                            std::optional<api::Integer> before) const;
  Reply<api::State> rename(api::Integer build, const api::Name& name);
  Reply<api::State> duplicate(api::Integer build, const api::Name& name);
  Reply<api::State> archive(api::Integer build, const api::Archived& archived);
  Reply<api::Compare> compare(api::Integer a, api::Integer b);
  Reply<File> sheet(api::Integer build) const;
  Reply<api::State> known(api::Integer build, const api::KnownSaid& said);

  // ---- what is made of it
  enum class View : std::uint8_t { side, top };
  Reply<File> view(api::Integer build, View view, double width_px);
  Reply<std::vector<api::PlotName>> plots(api::Integer build);
  Reply<api::Plot> plot(api::Integer build, const std::string& key,
                        std::optional<api::Integer> ghost, double width_px);
  Reply<File> plot_file(api::Integer build, const std::string& key, bool csv);
  /// The wiring on pages to print.
  Reply<std::vector<api::PrintName>> prints(api::Integer build);
  enum class PrintAs : std::uint8_t { in_page, svg, pdf, csv };
  struct PrintAsk {
    std::string key;
    PrintAs as;
    api::Integer page = 1;             ///< of `in_page` and `svg`
    api::Integer charge_percent = 50;  ///< at which the pack's taps are measured
  };
  Reply<File> print(api::Integer build, const PrintAsk& ask);
  Reply<api::PartsList> parts_list(api::Integer build);
  Reply<std::vector<api::Measure>> measure(api::Integer build);
  Reply<api::Explained> explain(api::Integer build, const std::string& topic);

  // ---- parts
  struct Place {
    std::optional<api::Integer> build = {};
    std::string slot = {};  ///< where the shelf serves two; empty: the first
  };
  Reply<std::vector<api::ShelfPart>> shelf(const std::string& shelf, const Place& place);
  struct Held {
    std::string shelf, id;
  };
  Reply<std::vector<api::Finding>> hold(const Held& a, const Held& b);
  Reply<api::Paste> paste(const api::PasteAsk& asked) const;
  Reply<std::vector<api::OwnPart>> own_parts() const;
  Reply<api::OwnPart> keep_own_part(const api::OwnPart& part);
  Reply<api::OwnPart> remove_own_part(api::Integer id, std::optional<api::Integer> base);

  // ---- what to buy
  Reply<api::SearchOffer> search_offer(api::Integer build);
  /// Starts one; a search of the same build that runs is ended. Comes back at once.
  Reply<api::SearchState> search(api::Integer build, const api::SearchAsk& ask);
  Reply<api::SearchState> search_now(api::Integer build);
  Reply<api::SearchState> search_end(api::Integer build);
  Reply<api::SearchFound> search_moved(api::Integer build, const api::SearchMoved& moved);
  /// A copy of the build with what was found in it.
  Reply<api::State> search_take(api::Integer build, const api::SearchTake& take);
  Reply<api::WhyNot> search_why(api::Integer build, const api::SearchWhy& why);
  Reply<std::vector<api::ClaimTerm>> claim(api::Integer build, const api::ClaimAsk& ask);
  Reply<std::vector<api::DonorRow>> donors(api::Integer build);

  // ---- wiring, and the work step by step
  Reply<api::Wiring> wiring(api::Integer build);
  Reply<api::Steps> steps(api::Integer build);
  /// Refused, and nothing kept, where it is no reading; kept, though not passed, where it is
  /// outside.
  Reply<api::State> step_done(api::Integer build, const api::StepDone& done);
  Reply<api::State> wire_laid(api::Integer build, const api::WireLaid& wire);
  Reply<api::State> cells_came(api::Integer build, const api::CellsCame& cells);
  Reply<api::Lesson> lesson(api::Integer build);
  Reply<api::State> learn(api::Integer build, const api::Base& base);

  // ---- beside it
  Reply<std::vector<api::Entry>> journal(api::Integer build) const;
  Reply<std::vector<api::Entry>> write_journal(api::Integer build, const api::NewEntry& entry);
  Reply<std::vector<api::Photo>> photos(api::Integer build) const;
  struct Picture {
    std::string bytes, caption, field;
  };
  Reply<api::Photo> add_photo(api::Integer build, const Picture& picture);
  Reply<File> photo(api::Integer id) const;

  /// Ends the work behind; calls that wait for it come back with what there is.
  void stop();

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace ww::serve
