#include "tests/verification/measured_loops.hpp"

#include <algorithm>
#include <cmath>

#include "solver/material/metal_point.hpp"
#include "tests/support/kinematic_sheets.hpp"

namespace halftool::test {
namespace {

const MeasuredLeg kDp780Tension = {
    {0.00102, 195.8},  {0.00199, 349.29}, {0.00299, 453.66}, {0.004, 510.63},
    {0.00497, 539.58}, {0.00596, 565.47}, {0.00801, 611.14}, {0.00998, 643.24},
    {0.01252, 682.06}, {0.01499, 708.34}, {0.01755, 732.17}, {0.02, 752.69},
    {0.02251, 771.3},  {0.02499, 788.44}, {0.02753, 803.83}, {0.02953, 813.89}};
const MeasuredLeg kDp780Compression = {
    {0.02836, 546.07},  {0.02751, 386.92},  {0.0265, 208.68},   {0.02552, 71.13},   {0.02499, 1.26},
    {0.02451, -59.16},  {0.02401, -103.44}, {0.02351, -143.03}, {0.02299, -181.72}, {0.0225, -217.55},
    {0.022, -252.39},   {0.021, -309.1},    {0.02002, -355.06}, {0.019, -396.37},   {0.01798, -430.58},
    {0.01701, -464.64}, {0.01602, -499.31}, {0.01499, -529.55}, {0.01401, -555.34}, {0.01301, -580.37},
    {0.01202, -603.33}, {0.01101, -622.90}, {0.01, -641.74},    {0.00899, -659.09}, {0.00801, -673.1},
    {0.007, -689.3},    {0.006, -702.91},   {0.00499, -717.85}, {0.00402, -730.35}, {0.00323, -739.13}};
const MeasuredLeg kAa6022Tension = {
    {0.00101, 69.79},  {0.00199, 137.67}, {0.00232, 158.13}, {0.00257, 170.81}, {0.00283, 179.07},
    {0.00321, 186.06}, {0.00353, 190.33}, {0.004, 194.75},   {0.00498, 200.14}, {0.00596, 203.91},
    {0.0075, 209.55},  {0.00906, 213.25}, {0.01004, 215.09}, {0.01247, 220.85}, {0.01498, 224.69},
    {0.0175, 229.42},  {0.01999, 234.17}};
const MeasuredLeg kAa6022Compression = {
    {0.018, 74.61},      {0.01751, 40.91},   {0.01699, 6.14},    {0.01649, -25.09},  {0.01602, -52.89},
    {0.01552, -80.22},   {0.01501, -104.36}, {0.0145, -125.08},  {0.01402, -141.74}, {0.01351, -156.86},
    {0.013, -169.0},     {0.0125, -177.97},  {0.01202, -184.98}, {0.01103, -197.44}, {0.01002, -205.83},
    {0.00909, -214.99},  {0.00808, -217.82}, {0.007, -223.77},   {0.00602, -226.91}, {0.005, -231.66},
    {0.00401, -234.68},  {0.00301, -236.07}, {0.002, -239.5},    {0.00102, -241.42}, {0.000045, -244.1},
    {-0.000335, -246.05}};
const MeasuredLeg kAa6022Again = {{0.00103, -130.64}, {0.002, -62.74},   {0.00283, -7.13},  {0.0035, 34.6},
                                  {0.00401, 64.27},   {0.00452, 91.04},  {0.00502, 115.78}, {0.00551, 135.45},
                                  {0.00599, 152.43},  {0.0065, 167.26},  {0.007, 178.95},   {0.00749, 188.49},
                                  {0.00801, 196.62},  {0.00902, 208.89}, {0.01005, 219.23}, {0.01203, 230.24},
                                  {0.01404, 239.01},  {0.01599, 245.06}, {0.01802, 250.83}, {0.01999, 254.18},
                                  {0.02502, 262.75},  {0.03005, 270.08}, {0.03502, 274.99}, {0.0375, 279.03}};

}  // namespace

std::vector<MeasuredLoop> measured_loops() {
  return {{"DP780, two surfaces fitted to this test",
           dp780_fitted(),
           {kDp780Tension, kDp780Compression},
           {"tension to 0.030", "compression to 0.003"}},
          {"AA6022, backstress fitted to this test",
           aa6022(),
           {kAa6022Tension, kAa6022Compression, kAa6022Again},
           {"tension to 0.020", "compression to 0", "tension to 0.038"}}};
}

MeasuredLoop dp780_loop_as_published() {
  MeasuredLoop loop = measured_loops().front();
  loop.name = "DP780, two surfaces as published";
  loop.material = dp780();
  return loop;
}

std::vector<MeasuredPoint> computed_points(const MeasuredLoop& loop, double longest_step) {
  solver::MetalPoint point(loop.material);
  std::vector<MeasuredPoint> points;
  for (const MeasuredLeg& leg : loop.legs)
    for (const MeasuredPoint& at : leg) {
      const double way = std::abs(at.strain - point.strain()[0]);
      const int steps = std::max(1, static_cast<int>(std::ceil(way / longest_step)));
      points.push_back({at.strain, point.pull(at.strain, steps)});
    }
  return points;
}

std::vector<double> leg_misses(const MeasuredLoop& loop, double longest_step) {
  const auto computed = computed_points(loop, longest_step);
  double largest = 0;
  for (const MeasuredLeg& leg : loop.legs)
    for (const MeasuredPoint& at : leg) largest = std::max(largest, std::abs(at.stress));
  std::vector<double> misses;
  std::size_t k = 0;
  for (const MeasuredLeg& leg : loop.legs) {
    double sum = 0;
    for (const MeasuredPoint& at : leg) {
      const double miss = computed[k++].stress - at.stress;
      sum += miss * miss;
    }
    misses.push_back(std::sqrt(sum / static_cast<double>(leg.size())) / largest);
  }
  return misses;
}

}  // namespace halftool::test
