#include <CLI/CLI.hpp>
#include <exception>
#include <iostream>

#include "io/case/case.hpp"
#include "io/case/schema/key_reference.hpp"
#include "io/cli/check.hpp"
#include "io/cli/exit_code.hpp"
#include "io/cli/run.hpp"
#include "io/cli/run_folder.hpp"
#include "io/results/summary.hpp"
#include "mesh/surface_mesh.hpp"

namespace {

using namespace halftool::io;

constexpr const char* exit_codes =
    "Exit codes\n"
    "  0  done, no limit passed\n"
    "  1  done, a limit passed\n"
    "  2  input wrong, nothing run\n"
    "  3  the computation could not be completed; what was reached is kept\n"
    "  4  stopped by the user; what was reached is kept\n"
    "  5  a fault of the program\n";
constexpr const char* safety =
    "Safety\n"
    "  High-pressure fluid, bursting tools and sharp edges injure and kill. A result clears\n"
    "  neither tool, press nor part: local codes and competent persons do.\n";

/// What the command line asks for.
struct Arguments {
  std::string case_file;
  PressOptions press;
  int threads = -1;  ///< -1: as the case says
  bool markdown = false;
  bool results = false;  ///< the keys of the results instead of the case's
};

void add_press(CLI::App& app, Arguments& arguments) {
  auto* press =
      app.add_subcommand("press", "Press a case: form, release, assess, write results and pictures");
  press->add_option("CASE.toml", arguments.case_file, "case file")->required()->type_name("");
  press
      ->add_option("-o,--out", arguments.press.folder,
                   "result folder (default: the case's name with .halftool-run, in the current directory)")
      ->type_name("DIR");
  press->add_flag("--replace", arguments.press.replace, "replace an existing result folder");
  press->add_option("-t,--threads", arguments.threads, "threads to compute with; 0: all cores")
      ->check(CLI::Range(0, 1024))
      ->type_name("N");
  press->add_flag("-q,--quiet", arguments.press.quiet, "no progress, no summary; errors and warnings only");
  press->footer(
      std::string("Examples\n"
                  "  halftool press bracket.toml\n"
                  "  halftool press bracket.toml --out trial-2 --threads 4\n"
                  "  halftool press bracket.toml --out trial-2 --replace --quiet\n\n"
                  "Ctrl-C stops after the current increment and keeps what was reached; a second one ends "
                  "the program at once.\n\n") +
      exit_codes + "\n" + safety);
}

void add_check(CLI::App& app, Arguments& arguments) {
  auto* check =
      app.add_subcommand("check", "Check a case: read, complete, build tool and blank mesh; solve nothing");
  check->add_option("CASE.toml", arguments.case_file, "case file")->required()->type_name("");
  check->footer(std::string("Prints the complete case, which is itself a case file.\n\n"
                            "Example\n"
                            "  halftool check bracket.toml\n\n") +
                exit_codes);
}

void add_keys(CLI::App& app, Arguments& arguments) {
  auto* keys = app.add_subcommand("keys", "List every key of the case file with unit, range and default");
  keys->add_flag("--markdown", arguments.markdown, "as Markdown tables");
  keys->add_flag("--results", arguments.results, "the keys of summary.json instead, as a Markdown table");
}

int run(const CLI::App& app, Arguments& arguments) {
  if (app.got_subcommand("keys")) {
    if (arguments.results)
      std::cout << summary_keys_markdown();
    else
      std::cout << (arguments.markdown ? print_key_reference_markdown() : print_key_reference());
    return as_int(ExitCode::done);
  }
  auto job = read_case(arguments.case_file);
  if (app.got_subcommand("check")) return run_check(job);
  if (arguments.threads >= 0) {
    job.settings.threads = arguments.threads;
    job.given.insert("effort.threads");
  }
  if (arguments.press.folder.empty()) arguments.press.folder = default_run_folder(arguments.case_file);
  return run_press(job, arguments.press);
}

/// The one place where errors become exit codes.
int run_safely(const CLI::App& app, Arguments& arguments) {
  try {
    return run(app, arguments);
  } catch (const CaseError& error) {
    const auto n = error.problems().size();
    std::cerr << error.what() << "\n\n"
              << n << (n == 1 ? " error" : " errors") << " in the case; nothing was run\n";
    return as_int(ExitCode::input_wrong);
  } catch (const FolderError& error) {
    std::cerr << error.what() << "\nnothing was run\n";
    return as_int(ExitCode::input_wrong);
  } catch (const halftool::mesh::MeshError& error) {
    std::cerr << "the geometry cannot be built: " << error.what() << "\nnothing was run\n";
    return as_int(ExitCode::input_wrong);
  } catch (const std::exception& error) {
    std::cerr << "a fault of the program, not of the case: " << error.what()
              << "\nplease report it with the case file\n";
    return as_int(ExitCode::our_fault);
  }
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app{
      "halftool computes how a sheet-metal blank wraps one rigid tool half under fluid pressure, how far it\n"
      "springs back, and where it thins, splits or leaves a gap.",
      "halftool"};
  app.set_version_flag("--version", "halftool " HALFTOOL_VERSION);
  app.require_subcommand(0, 1);
  app.get_formatter()->column_width(30);
  Arguments arguments;
  add_press(app, arguments);
  add_check(app, arguments);
  add_keys(app, arguments);
  app.footer(std::string("Examples\n"
                         "  halftool check bracket.toml\n"
                         "  halftool press bracket.toml --out trial-1\n"
                         "  halftool press --help\n\n") +
             exit_codes + "\n" + safety);
  try {
    app.parse(argc, argv);
  } catch (const CLI::Success& wish) {  // help, version
    return app.exit(wish);
  } catch (const CLI::ParseError& error) {
    app.exit(error);
    return as_int(ExitCode::input_wrong);
  }
  if (app.get_subcommands().empty()) {
    std::cerr << app.help();
    return as_int(ExitCode::input_wrong);
  }
  return run_safely(app, arguments);
}
