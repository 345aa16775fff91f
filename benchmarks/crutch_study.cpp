// How far the answer of a case depends on the numbers of the method: presses the case in variants, each with
// one number changed, and prints a Markdown table of springback and effort. Writes no files.
//
//   crutch_study CASE.toml [VARIANT...]    variants by name, see kVariants; none: all but mesh-20
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <exception>
#include <functional>
#include <iostream>
#include <numbers>
#include <optional>
#include <string>
#include <vector>

#include "io/case/case.hpp"
#include "io/cli/job_summary.hpp"
#include "io/cli/press_job.hpp"

namespace {

using namespace halftool;

struct Variant {
  std::string name;
  std::string meaning;
  std::function<void(io::Case&)> change;
};

Variant mesh_variant(int elements) {
  return {"mesh-" + std::to_string(elements), std::to_string(elements) + " elements over a bend",
          [elements](io::Case& job) { job.blank_mesh.elements_per_bend = elements; }};
}

std::vector<Variant> all_variants() {
  return {
      {"base", "as the case stands", [](io::Case&) {}},
      {"contact", "contact five times stiffer", [](io::Case& job) { job.settings.penetration_share /= 5; }},
      {"increments", "largest increment halved",
       [](io::Case& job) {
         job.settings.pressure_growth /= 2;
         job.settings.largest_motion /= 2;
       }},
      {"tolerance", "tolerance a tenth", [](io::Case& job) { job.settings.tolerance /= 10; }},
      {"slip", "elastic slip halved", [](io::Case& job) { job.settings.slip_share /= 2; }},
      {"layers", "four more layers", [](io::Case& job) { job.settings.layers += 4; }},
      mesh_variant(6),
      mesh_variant(14),
      mesh_variant(20),
  };
}

struct Row {
  Variant variant;
  double elements_per_bend = 0;
  io::Summary summary;
};

double degrees(double radians) {
  return radians * 180 / std::numbers::pi;
}

/// Springback of a flange [deg]; nothing if the run did not get there.
std::optional<double> springback(const io::Summary& summary, size_t flange) {
  if (flange >= summary.flanges.size()) return std::nullopt;
  return degrees(summary.flanges[flange].released - summary.flanges[flange].formed);
}

Row run(const io::Case& base, const Variant& variant) {
  io::Case job = base;
  variant.change(job);
  std::cerr << "== " << variant.name << ": " << variant.meaning << '\n';
  const io::Setup setup = io::make_setup(job);
  io::PressJournal journal(std::cerr, io::ProgressStyle::plain, setup.blank, std::nullopt,
                           io::forming_limit(job), job.material);
  io::PressResult result = io::press_job(job, setup, journal);
  for (size_t i = 0; i < result.summary.flanges.size(); ++i)
    std::cerr << result.summary.flanges[i].name << ' ' << *springback(result.summary, i) << " deg\n";
  if (!result.summary.reason.empty()) std::cerr << result.summary.reason << '\n';
  return {variant, job.blank_mesh.elements_per_bend, std::move(result.summary)};
}

void print_head(const io::Summary& base) {
  std::printf("| variant | what changes |");
  for (const io::FlangeAngle& flange : base.flanges)
    std::printf(" %s [deg] | against base |", flange.name.c_str());
  std::printf(" increments | cuts | iterations | penetration | crutch work | time [s] |\n|---|---|");
  for (size_t i = 0; i < base.flanges.size(); ++i) std::printf("--:|--:|");
  std::printf("--:|--:|--:|--:|--:|--:|\n");
}

void print_row(const Row& row, const io::Summary& base) {
  const io::Summary& s = row.summary;
  std::printf("| %s | %s |", row.variant.name.c_str(), row.variant.meaning.c_str());
  for (size_t i = 0; i < base.flanges.size(); ++i) {
    const auto here = springback(s, i), there = springback(base, i);
    if (here && there)
      std::printf(" %.3f | %+.3f |", *here, *here - *there);
    else
      std::printf(" %s | |", io::outcome_word(s.outcome).c_str());
  }
  std::printf(" %d | %d | %d | %.2f %% | %.2f %% | %.0f |\n", s.record.increments, s.record.cuts,
              s.record.iterations, 100 * io::penetration_share(s), 100 * io::regularisation_share(s.record),
              io::total_seconds(s));
}

/// Springback on meshes of n elements over a bend, coarse to fine.
struct Sample {
  double n = 0;
  double value = 0;
};

/// Order p of a + b n^-p through three samples; nothing if no p from 0.5 to 6 does it, that is if the meshes
/// do not (yet) converge.
std::optional<double> order_of(const Sample& a, const Sample& b, const Sample& c) {
  const double observed = (b.value - a.value) / (c.value - b.value);
  const auto misfit = [&](double p) {
    return (std::pow(b.n, -p) - std::pow(a.n, -p)) / (std::pow(c.n, -p) - std::pow(b.n, -p)) - observed;
  };
  double low = 0.5, high = 6;
  if (!(misfit(low) * misfit(high) < 0)) return std::nullopt;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    (misfit(low) * misfit(middle) <= 0 ? high : low) = middle;
  }
  return low;
}

void print_extrapolation(const std::string& flange, const std::vector<Sample>& samples) {
  const Sample &a = samples[samples.size() - 3], &b = samples[samples.size() - 2], &c = samples.back();
  std::printf("- %s, from %g, %g and %g elements over a bend: ", flange.c_str(), a.n, b.n, c.n);
  if (const auto order = order_of(a, b, c))
    std::printf("%.3f deg, order %.1f (Richardson)\n",
                c.value + (c.value - b.value) / (std::pow(c.n / b.n, *order) - 1), *order);
  else
    std::printf("not extrapolated, the meshes show no order of convergence\n");
}

void print_extrapolations(const std::vector<Row>& rows) {
  std::vector<const Row*> meshes;
  for (const Row& row : rows)
    if ((row.variant.name == "base" || row.variant.name.starts_with("mesh-")) && !row.summary.flanges.empty())
      meshes.push_back(&row);
  std::sort(meshes.begin(), meshes.end(),
            [](const Row* a, const Row* b) { return a->elements_per_bend < b->elements_per_bend; });
  const auto same = [](const Row* a, const Row* b) { return a->elements_per_bend == b->elements_per_bend; };
  meshes.erase(std::unique(meshes.begin(), meshes.end(), same), meshes.end());
  if (meshes.size() < 3) return;
  std::printf("\nWith the mesh:\n\n");
  for (size_t i = 0; i < meshes.back()->summary.flanges.size(); ++i) {
    std::vector<Sample> samples;
    for (const Row* row : meshes)
      if (const auto value = springback(row->summary, i)) samples.push_back({row->elements_per_bend, *value});
    if (samples.size() >= 3) print_extrapolation(meshes.back()->summary.flanges[i].name, samples);
  }
}

std::vector<Variant> chosen(int argc, char** argv) {
  std::vector<Variant> variants;
  for (const Variant& variant : all_variants()) {
    const bool named = std::any_of(argv + 2, argv + argc, [&](const char* a) { return variant.name == a; });
    if (named || (argc == 2 && variant.name != "mesh-20")) variants.push_back(variant);
  }
  return variants;
}

int study(int argc, char** argv) {
  const std::vector<Variant> variants = argc < 2 ? std::vector<Variant>() : chosen(argc, argv);
  if (argc < 2 || variants.size() < static_cast<size_t>(argc - 2)) {
    std::cerr << "usage: crutch_study CASE.toml [VARIANT...]\nvariants:";
    for (const Variant& variant : all_variants()) std::cerr << ' ' << variant.name;
    std::cerr << '\n';
    return 2;
  }
  const io::Case job = io::read_case(argv[1]);
  std::vector<Row> rows;
  for (const Variant& variant : variants) {
    rows.push_back(run(job, variant));
    if (rows.back().summary.outcome == io::Outcome::stopped) break;
  }
  print_head(rows.front().summary);
  for (const Row& row : rows) print_row(row, rows.front().summary);
  print_extrapolations(rows);
  const bool complete = std::all_of(rows.begin(), rows.end(), [](const Row& row) {
    return row.summary.outcome == io::Outcome::done || row.summary.outcome == io::Outcome::limit_passed;
  });
  return complete ? 0 : 3;
}

}  // namespace

int main(int argc, char** argv) {
  try {
    return study(argc, argv);
  } catch (const std::exception& error) {
    std::cerr << error.what() << '\n';
    return 2;
  }
}
