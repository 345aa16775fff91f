// A good drawing cut off anywhere or with bytes changed: it is read or refused, and nothing else.
#include <gtest/gtest.h>

#include <random>

#include "io/drawing/blank_drawing.hpp"
#include "io/drawing/drawing_error.hpp"
#include "tests/io/drawing/dxf_text.hpp"

namespace halftool::io {
namespace {

/// One of each kind of curve, with layers and texts.
std::string good() {
  using namespace dxf;
  const std::string tables = group(0, "TABLE") + group(2, "LAYER") + group(70, 1) + group(0, "LAYER") +
                             group(2, "0") + group(70, 0) + group(62, 7) + group(0, "ENDTAB");
  return file(line(0, 0, 40, 0) + arc(40, 10, 10, 270, 90) +
                  lwpolyline({{40, 20}, {30, 20, 0.3}, {20, 20}}, false) +
                  spline(2, {0, 0, 0, 1, 1, 1}, {{20, 20}, {10, 25}, {0, 20}}) +
                  polyline({{0, 20}, {0, 10}, {0, 0}}, 0) + circle(10, 10, 3) + ellipse(25, 10, 6, 0, 0.5) +
                  start("TEXT") + group(1, "blank"),
              4, tables);
}

/// @return  whether the drawing was read
bool is_read_or_refused(const std::string& text) {
  try {
    read_blank_drawing(text, {"", {}, {}}, "blank.dxf");
    return true;
  } catch (const DrawingError& error) {
    EXPECT_FALSE(error.fault().found.empty());
    EXPECT_FALSE(error.fault().mend.empty());
    return false;
  }
}

TEST(DamagedDrawing, TheGoodOneIsRead) {
  EXPECT_TRUE(is_read_or_refused(good()));
}

TEST(DamagedDrawing, CutOffAnywhereIsRefused) {
  const std::string text = good();
  for (size_t n = 0; n + 4 < text.size(); ++n) EXPECT_FALSE(is_read_or_refused(text.substr(0, n))) << n;
}

TEST(DamagedDrawing, ChangedBytesAreReadOrRefused) {
  std::mt19937 random(11);
  const std::string text = good();
  int n_read = 0;
  constexpr int n_trials = 6000;
  for (int trial = 0; trial < n_trials; ++trial) {
    std::string damaged = text;
    const size_t n_changes = 1 + random() % 4;
    for (size_t i = 0; i < n_changes; ++i) {
      const size_t place = random() % damaged.size();
      // Digits mostly: they pass the first checks.
      damaged[place] =
          random() % 3 == 0 ? static_cast<char>(random() % 256) : static_cast<char>('0' + random() % 10);
    }
    n_read += is_read_or_refused(damaged) ? 1 : 0;
  }
  EXPECT_GT(n_read, n_trials / 100);  // some changes do no harm
  EXPECT_LT(n_read, n_trials);
}

TEST(DamagedDrawing, SwappedAndRepeatedLinesAreReadOrRefused) {
  std::mt19937 random(5);
  std::vector<std::string> lines;
  std::istringstream stream(good());
  for (std::string one; std::getline(stream, one);) lines.push_back(one);
  for (int trial = 0; trial < 2000; ++trial) {
    auto damaged = lines;
    const size_t a = random() % lines.size(), b = random() % lines.size();
    if (trial % 2 == 0)
      std::swap(damaged[a], damaged[b]);
    else
      damaged.insert(damaged.begin() + static_cast<std::ptrdiff_t>(a), 2, lines[b]);
    std::string text;
    for (const auto& one : damaged) text += one + '\n';
    is_read_or_refused(text);
  }
}

}  // namespace
}  // namespace halftool::io
