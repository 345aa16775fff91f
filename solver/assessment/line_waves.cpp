#include "solver/assessment/line_waves.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

namespace halftool::solver {
namespace {

constexpr int kLeastSamples = 8;
constexpr double kWidest = 1.0 / 3;  // of a line: a crest at half its height

struct Sample {
  double along = 0, height = 0;
  int origin = 0;  // in the line that was given
};
using Samples = std::vector<Sample>;

Samples samples_of(const HeightLine& line) {
  Samples samples;
  for (int i = 0; i < line.along.size(); ++i) samples.push_back({line.along(i), line.height(i), i});
  return samples;
}

// The image beyond the last sample, which itself is not repeated.
void add_image(Samples& samples) {
  const double mirror = samples.back().along;
  for (int i = static_cast<int>(samples.size()) - 2; i >= 0; --i)
    samples.push_back({2 * mirror - samples[i].along, samples[i].height, samples[i].origin});
}

void turn_round(Samples& samples) {
  std::reverse(samples.begin(), samples.end());
  for (Sample& sample : samples) sample.along *= -1;
}

// The straight line of least squares.
void take_off_tilt(Samples& samples) {
  const auto n = static_cast<double>(samples.size());
  double along = 0, height = 0, square = 0, product = 0;
  for (const Sample& s : samples) along += s.along / n, height += s.height / n;
  for (const Sample& s : samples) {
    square += (s.along - along) * (s.along - along);
    product += (s.along - along) * (s.height - height);
  }
  for (Sample& s : samples) s.height -= height + product / square * (s.along - along);
}

// Samples where the line turns, after rises and falls of at least `least`: valleys and crests by turns, the
// first and the last being the ends.
struct Turns {
  std::vector<int> at;
  bool starts_with_valley = true;
};

Turns find_turns(const Samples& samples, double least) {
  Turns turns;
  int low = 0, high = 0;
  int rising = 0;  // 1: since the last turn, -1: falling, 0: not known yet
  const int n = static_cast<int>(samples.size());
  for (int i = 1; i < n; ++i) {
    const double height = samples[i].height;
    if (height < samples[low].height) low = i;
    if (height > samples[high].height) high = i;
    if (rising <= 0 && height - samples[low].height >= least) {
      if (rising == 0) turns.starts_with_valley = true;
      turns.at.push_back(low);
      rising = 1;
      high = i;
    } else if (rising >= 0 && samples[high].height - height >= least) {
      if (rising == 0) turns.starts_with_valley = false;
      turns.at.push_back(high);
      rising = -1;
      low = i;
    }
  }
  if (rising != 0) turns.at.push_back(rising > 0 ? high : low);
  return turns;
}

// From the lowest sample once round to the lowest again: both ends are then valleys.
Samples once_round(Samples samples, double period) {
  const auto lowest = std::min_element(samples.begin(), samples.end(),
                                       [](const Sample& a, const Sample& b) { return a.height < b.height; });
  const auto ahead = lowest - samples.begin();
  std::rotate(samples.begin(), lowest, samples.end());
  for (auto i = static_cast<std::ptrdiff_t>(samples.size()) - ahead; i < std::ssize(samples); ++i)
    samples[i].along += period;
  Sample last = samples.front();
  last.along += period;
  samples.push_back(last);
  return samples;
}

// From a crest towards a valley: how far it is to half the height over the line between the valleys.
double half_width(const Samples& samples, int crest, int valley, const std::function<double(int)>& over) {
  const int step = valley < crest ? -1 : 1;
  const double half = 0.5 * over(crest);
  int i = crest;
  while (i + step != valley && over(i + step) > half) i += step;
  const double share = (over(i) - half) / (over(i) - over(i + step));
  const double at = samples[i].along + share * (samples[i + step].along - samples[i].along);
  return std::abs(at - samples[crest].along);
}

Wave wave_between(const Samples& samples, int before, int crest, int after) {
  const Sample &a = samples[before], &b = samples[after];
  const std::function<double(int)> over = [&](int i) {
    const double share = (samples[i].along - a.along) / (b.along - a.along);
    return samples[i].height - (1 - share) * a.height - share * b.height;
  };
  const double width = half_width(samples, crest, before, over) + half_width(samples, crest, after, over);
  return {over(crest), 2 * width, samples[crest].origin};
}

}  // namespace

std::vector<Wave> find_waves(const HeightLine& line, double least) {
  Samples samples = samples_of(line);
  if (std::ssize(samples) < kLeastSamples) return {};
  const bool two_mirrors = line.starts_on_mirror && line.ends_on_mirror;
  double period = line.period;
  if (two_mirrors) {
    period = 2 * (samples.back().along - samples.front().along);
    add_image(samples);
    samples.pop_back();
  } else if (line.starts_on_mirror || line.ends_on_mirror) {
    if (line.starts_on_mirror) turn_round(samples);
    add_image(samples);
  }
  if (period > 0)
    samples = once_round(std::move(samples), period);
  else
    take_off_tilt(samples);
  const double widest = kWidest * (samples.back().along - samples.front().along);
  const Turns turns = find_turns(samples, least);
  std::vector<Wave> waves;
  for (std::size_t i = turns.starts_with_valley ? 1 : 2; i + 1 < turns.at.size(); i += 2) {
    const Wave wave = wave_between(samples, turns.at[i - 1], turns.at[i], turns.at[i + 1]);
    const auto same = [&](const Wave& other) { return other.crest == wave.crest; };
    if (0.5 * wave.length <= widest && std::none_of(waves.begin(), waves.end(), same)) waves.push_back(wave);
  }
  std::sort(waves.begin(), waves.end(), [](const Wave& a, const Wave& b) { return a.crest < b.crest; });
  return waves;
}

double bending_strain(const Wave& wave, double thickness) {
  const double number = 2 * std::numbers::pi / wave.length;
  return 0.5 * thickness * 0.5 * wave.height * number * number;
}

}  // namespace halftool::solver
