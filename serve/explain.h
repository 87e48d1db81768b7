// SPDX-License-Identifier: MIT
// `explain`: a rule, a figure, a derived number or an answer, with this build's numbers in the sum,
// so that it can be redone on a pocket calculator.
#pragma once

#include <string>

#include "serve/evaluate.h"

namespace ww::serve {

/// Empty where the topic is nothing that is known; `near` then names the nearest topic.
std::string explain(const build::Build& build, const Checked& checked, const std::string& topic,
                    figure::System units, std::string& near);

}  // namespace ww::serve
