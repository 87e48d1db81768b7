// SPDX-License-Identifier: MIT
// A double may not slip into a float or an int: the widths are said.
// Message: W(float-)?conversion|may change value
int teeth(double ratio) {
#ifndef WRONG
  return static_cast<int>(14 * ratio);
#else
  return 14 * ratio;
#endif
}
