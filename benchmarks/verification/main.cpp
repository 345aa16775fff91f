// The solver against published results: runs the problems of the suite and writes one table of them as
// Markdown and as JSON, and charts of curves over the reference.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <chrono>
#include <exception>
#include <filesystem>
#include <iostream>

#include "benchmarks/verification/problems.hpp"
#include "benchmarks/verification/results.hpp"
#include "io/results/write_file.hpp"

namespace {

using namespace halftool;
using namespace halftool::verification;

struct Options {
  std::vector<std::string> only;
  std::filesystem::path out = "verification-results";
  std::string commit = "an unnamed commit";
  bool list = false;
};

void print_list(const std::vector<Problem>& problems) {
  for (const Problem& problem : problems) fmt::print("{:28} {}\n", problem.name, problem.title);
}

Result run(const Problem& problem) {
  Result result{problem, {}, 0, {}};
  const auto start = std::chrono::steady_clock::now();
  try {
    result.report = problem.run();
  } catch (const std::exception& error) {
    result.failure = error.what();
  }
  result.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  return result;
}

void print_result(const Result& result) {
  fmt::print("{}: {:.1f} s{}\n", result.problem.name, result.seconds,
             result.failure.empty() ? "" : ", did not run to its end: " + result.failure);
  for (const Row& row : result.report.rows)
    fmt::print("  {}, {}: {:.6g} against {:.6g}, {:+.2f} %{}{}\n", row.quantity, row.mesh, row.value,
               row.reference, 100 * row.error, row.rate ? fmt::format(", order {:.1f}", *row.rate) : "",
               row.holds() ? "" : fmt::format("  MISSES {:.3g} %", 100 * *row.allowed));
  std::cout.flush();
}

std::vector<std::string> left_out(const std::vector<Problem>& all, const std::vector<Result>& results) {
  std::vector<std::string> names;
  for (const Problem& problem : all)
    if (std::none_of(results.begin(), results.end(),
                     [&](const Result& result) { return result.problem.name == problem.name; }))
      names.push_back(problem.name);
  return names;
}

void write_all(const Options& options, const std::vector<Problem>& all, const std::vector<Result>& results) {
  std::filesystem::create_directories(options.out);
  io::write_file(options.out / "RESULTS.md", to_markdown(results, options.commit, left_out(all, results)));
  io::write_file(options.out / "results.json", to_json(results, options.commit));
  for (const Result& result : results)
    for (const Chart& chart : result.report.charts) draw_chart(options.out, chart, result.problem.source);
}

std::vector<Problem> chosen(const Options& options, const std::vector<Problem>& all) {
  if (options.only.empty()) return all;
  std::vector<Problem> some;
  for (const Problem& problem : all)
    if (std::find(options.only.begin(), options.only.end(), problem.name) != options.only.end())
      some.push_back(problem);
  return some;
}

}  // namespace

int main(int argc, char** argv) {
  Options options;
  const std::vector<Problem> all = all_problems();
  std::vector<std::string> names;
  for (const Problem& problem : all) names.push_back(problem.name);
  CLI::App app{"Holds the solver against published results."};
  app.add_option("--only", options.only, "problems by name; none: all")->check(CLI::IsMember(names));
  app.add_option("--out", options.out, "folder of the table and the charts")->capture_default_str();
  app.add_option("--commit", options.commit, "what is run, for the head of the table")->capture_default_str();
  app.add_flag("--list", options.list, "print the names of the problems");
  CLI11_PARSE(app, argc, argv);
  if (options.list) {
    print_list(all);
    return 0;
  }
  try {
    std::vector<Result> results;
    for (const Problem& problem : chosen(options, all)) {
      results.push_back(run(problem));
      print_result(results.back());
    }
    write_all(options, all, results);
    const bool complete =
        std::all_of(results.begin(), results.end(), [](const Result& r) { return r.failure.empty(); });
    return complete ? 0 : 1;
  } catch (const std::exception& error) {
    std::cerr << "error: " << error.what() << '\n';
    return 1;
  }
}
