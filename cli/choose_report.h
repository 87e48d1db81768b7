// SPDX-License-Identifier: MIT
// `choose`: the short list, why the rest fell out, what to decide first, as text and for machines.
#pragma once

#include <string>
#include <vector>

#include "cli/session.h"
#include "search/choosing.h"
#include "search/claims.h"
#include "search/donors.h"
#include "search/doubts.h"

namespace ww::cli {

struct ChooseAsk {
  std::vector<std::string> open, keep;  ///< axes
  std::vector<std::string> without;     ///< "motor/some-id"
  std::vector<std::string> musts;       ///< the only wishes that are musts; empty: every wish
  std::vector<std::string> wants;       ///< "distance=3"
  std::string why;                      ///< "motor/some-id"
  double seconds = 0;                   ///< ends the hunt early; 0: never
};

/// What is asked for, or what stands in the way: "unknown-choice", "bad-weight".
struct Understood {
  search::Ask ask;
  search::Wishes wishes;
};
Result<Understood> understand(const build::Build& build, const ChooseAsk& ask,
                              const build::Library& library, const build::Library& shipped);

std::string choose_report(const Opened& opened, const search::Choosing& chosen,
                          const search::Doubts& doubts, const search::Shop& shop,
                          const Options& options);
std::string choose_json(const Opened& opened, const search::Choosing& chosen,
                        const search::Doubts& doubts, const search::Shop& shop);
std::string why_report(const search::Choosing& chosen, const search::WhyNot& why,
                       const std::string& part, const Options& options);

/// What a claim comes to, term by term.
std::string claim_report(const std::string& text, const std::vector<search::ClaimTerm>& terms,
                         bool on_a_sheet);

/// Which donors carry the pack, and when to walk away.
std::string donors_report(const Opened& opened, const std::vector<search::DonorFit>& donors,
                          const Options& options);

}  // namespace ww::cli
