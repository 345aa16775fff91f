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
  io::PressJournal journal(std::cerr, io::ProgressStyle::plain, std::nullopt, io::forming_limit(job));
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

/// A quantity a + b h^2 through the two finest of the meshes, h the element length: its value at h = 0.
double extrapolated(double n_coarse, double coarse, double n_fine, double fine) {
  const double ratio = std::pow(n_fine / n_coarse, 2);
  return fine + (fine - coarse) / (ratio - 1);
}

void print_extrapolation(const std::vector<Row>& rows) {
  std::vector<const Row*> meshes;
  for (const Row& row : rows)
    if ((row.variant.name == "base" || row.variant.name.starts_with("mesh-")) && !row.summary.flanges.empty())
      meshes.push_back(&row);
  std::sort(meshes.begin(), meshes.end(),
            [](const Row* a, const Row* b) { return a->elements_per_bend < b->elements_per_bend; });
  const auto same = [](const Row* a, const Row* b) { return a->elements_per_bend == b->elements_per_bend; };
  meshes.erase(std::unique(meshes.begin(), meshes.end(), same), meshes.end());
  if (meshes.size() < 2) return;
  const Row &coarse = *meshes[meshes.size() - 2], &fine = *meshes.back();
  std::printf("\nExtrapolated from %g and %g elements over a bend, error taken as quadratic in the size:\n\n",
              coarse.elements_per_bend, fine.elements_per_bend);
  for (size_t i = 0; i < fine.summary.flanges.size(); ++i)
    if (const auto a = springback(coarse.summary, i), b = springback(fine.summary, i); a && b)
      std::printf("- %s: %.3f deg\n", fine.summary.flanges[i].name.c_str(),
                  extrapolated(coarse.elements_per_bend, *a, fine.elements_per_bend, *b));
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
  print_extrapolation(rows);
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
