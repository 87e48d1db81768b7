// SPDX-License-Identifier: MIT
// A search in the builder's words and units: what can be asked, what was found, why each and what
// it gives up. Pure. A part of the library is invented: it is shown as figures to shop for, never
// under a name.
#pragma once

#include <string>
#include <vector>

#include "search/donors.h"
#include "serve/api.h"
#include "serve/seeker.h"

namespace ww::serve {

/// The texts are in these.
struct Speech {
  figure::System units = figure::System::metric;
  std::string currency;
};
Speech speech_of(const SeekJob& job);

/// "1 400 EUR", "8 weeks", "95 km/h".
std::string number_text(search::Quantity quantity, double value, const Speech& speech);
/// A record's number in its yardstick's unit.
double in_unit(search::Quantity quantity, double value, const Speech& speech);

api::SearchOffer offer_of(const build::Build& build, const World& world,
                          const build::Library& shipped, figure::System units);

/// What was asked, understood: every problem with its field.
struct Sought {
  search::Ask ask;
  search::Wishes wishes;
  Errors errors;
};
Sought understood(const api::SearchAsk& ask, const build::Build& build, const World& world,
                  const build::Library& shipped);
/// The same of wishes alone.
search::Wishes wishes_from(const std::vector<api::SearchMust>& musts,
                           const std::vector<api::SearchWant>& wants, const std::string& currency,
                           Errors& errors);

/// The titles of the rules that are in the way together.
std::string in_the_way(const search::Lock& lock, std::string_view between);

/// "It holds in 83 of 100 draws": how far a bike rests on what nobody knows yet.
std::string holding_text(const search::Holding& holding);

/// Everything about a search; `stale`: the build has changed since.
api::SearchState search_state(Seek& seek, bool stale);
api::SearchEvent search_event(const Seek& seek);
/// What moved wishes leave of a search that is done.
api::SearchFound found_of(Seek& seek, const search::Wishes& wishes);
api::WhyNot why_of(const search::WhyNot& why, const search::Choosing& chosen, const Seek& seek);

std::vector<api::DonorRow> donor_rows(const std::vector<search::DonorFit>& donors,
                                      figure::System units);

}  // namespace ww::serve
