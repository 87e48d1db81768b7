// SPDX-License-Identifier: MIT
// The workbench's wiring: the circuit in words, the settings sheet.
#include "serve/steps_words.h"
#include "serve/wiring_report.h"
#include "serve/workbench_impl.h"

namespace ww::serve {

Reply<api::Wiring> Workbench::wiring(api::Integer build) {
  const auto now = impl_->current(build);
  if (!now) return refused(now.error());
  const auto looked = impl_->lookout.first(now->job);
  api::Wiring out;
  out.circuit = pieces_of(wiring_report(looked->checked, wired(looked->checked),
                                        {.units = looked->units, .all = true}));
  out.settings = pieces_of(settings_report(looked->checked.ridden, looked->units));
  return out;
}

}  // namespace ww::serve
