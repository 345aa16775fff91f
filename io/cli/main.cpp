#include <unistd.h>

#include <CLI/CLI.hpp>
#include <cstdlib>
#include <exception>
#include <iostream>

#include "io/case/case.hpp"
#include "io/case/quantity.hpp"
#include "io/case/schema/key_reference.hpp"
#include "io/cli/check.hpp"
#include "io/cli/exit_code.hpp"
#include "io/cli/fit_verb.hpp"
#include "io/cli/reckon_verb.hpp"
#include "io/cli/run.hpp"
#include "io/cli/run_folder.hpp"
#include "io/cli/scatter_verb.hpp"
#include "io/cli/sheets_verb.hpp"
#include "io/cli/stock_verb.hpp"
#include "io/results/summary.hpp"
#include "mesh/surface_mesh.hpp"
#include "solver/assembly/dense_kernels.hpp"

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
  ReckonOptions reckon;
  SheetsOptions sheets;
  int threads = -1;  ///< -1: as the case says
  bool markdown = false;
  bool results = false;  ///< the keys of the results instead of the case's
  StockOptions stock;
  FitOptions fit;
  std::string modulus;    ///< for the fit
  std::string folder;     ///< for the pictures of the stock
  std::string thickness;  ///< for which a forming limit is estimated
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
  press->add_flag("--resume", arguments.press.go_on,
                  "go on with the run into the result folder that was stopped or broken off");
  press->add_option("-t,--threads", arguments.threads, "threads to compute with; 0: all cores")
      ->check(CLI::Range(0, 1024))
      ->type_name("N");
  press->add_flag("-q,--quiet", arguments.press.quiet, "no progress, no summary; errors and warnings only");
  press->footer(
      std::string(
          "Examples\n"
          "  halftool press bracket.toml\n"
          "  halftool press bracket.toml --out trial-2 --threads 4\n"
          "  halftool press bracket.toml --out trial-2 --replace --quiet\n"
          "  halftool press bracket.toml --out trial-2 --resume\n\n"
          "Ctrl-C stops after the current increment and keeps what was reached; a second one ends "
          "the program at once.\n"
          "A stopped pressing goes on with --resume, to the same numbers; one that was broken off by a\n"
          "failure of the machine, from at most ten minutes before.\n\n") +
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

void add_reckon(CLI::App& app, Arguments& arguments) {
  auto* reckon = app.add_subcommand("reckon", "Estimate a case by hand formulas; solve nothing");
  reckon->add_option("CASE.toml", arguments.case_file, "case file")->required()->type_name("");
  reckon->add_option("--json", arguments.reckon.json, "write the estimates into this file, too")
      ->type_name("FILE");
  reckon->footer(
      std::string(
          "Pressure that fills each inside radius and starts each fold, the length that friction locks,\n"
          "springback of each bend with a band, edge strains, openings that print through, tool walls; each\n"
          "with formula, inputs and what stands behind it. Rough estimates, which clear nothing.\n\n"
          "Example\n"
          "  halftool reckon bracket.toml --json bracket-estimates.json\n\n") +
      exit_codes + "\n" + safety);
}

/// The options of the commands that press a case several times.
void add_runs(CLI::App& command, SheetsOptions& options, const std::string& needs,
              const std::string& suffix) {
  command.add_option("CASE.toml", options.case_file, "case file with " + needs)->required()->type_name("");
  command
      .add_option("-o,--out", options.folder,
                  "folder for the table and the runs (default: the case's name with " + suffix + ")")
      ->type_name("DIR");
  command.add_flag("--replace", options.replace, "replace existing result folders");
  command.add_option("-t,--threads", options.threads, "threads to compute with; 0: all cores")
      ->check(CLI::Range(0, 1024))
      ->type_name("N");
  command.add_flag("-q,--quiet", options.quiet, "no progress, no table; errors and warnings only");
}

void add_sheets(CLI::App& app, Arguments& arguments) {
  auto* sheets = app.add_subcommand("sheets", "Press a case with each of its sheets over one tool half");
  add_runs(*sheets, arguments.sheets, "[[sheet.other]]", ".halftool-sheets");
  sheets->footer(
      std::string("The case's own sheet comes first, then each [[sheet.other]] with another thickness, stock "
                  "or kind of\n"
                  "hardening. A run that fails does not stop the others. Writes sheets.csv, sheets.json and "
                  "a picture,\n"
                  "sheets.png, beside the runs.\n\n"
                  "Example\n"
                  "  halftool sheets bracket.toml --out gauges\n\n"
                  "Ctrl-C stops the run and leaves out the others; the table holds what was reached.\n\n") +
      exit_codes + "\n" + safety);
}

void add_scatter(CLI::App& app, Arguments& arguments) {
  auto* scatter =
      app.add_subcommand("scatter", "Press a case over its stated scatter: bands and what drives them");
  add_runs(*scatter, arguments.sheets, "[scatter]", ".halftool-scatter");
  scatter->footer(std::string("[scatter] states by how much thickness, strength, exponent and friction vary "
                              "either way. Presses the\n"
                              "middle and every combination of ends (design = \"half\": half of them): 3, 5, "
                              "9 or 17 runs. Writes\n"
                              "scatter.csv and .json, effects.csv, .json and .png beside the runs.\n\n"
                              "Example\n"
                              "  halftool scatter bracket.toml --out bands\n\n") +
                  exit_codes + "\n" + safety);
}

void add_keys(CLI::App& app, Arguments& arguments) {
  auto* keys = app.add_subcommand("keys", "List every key of the case file with unit, range and default");
  keys->add_flag("--markdown", arguments.markdown, "as Markdown tables");
  keys->add_flag("--results", arguments.results, "the keys of summary.json instead, as a Markdown table");
}

/// A length given as an option: "1.6 mm".
double length_option(const std::string& name, const std::string& text) {
  const auto length = parse_quantity(text, Dimension::length);
  if (!length.value)
    throw CaseError({{"halftool stock", 0, name, text, length.fault.allowed, length.fault.mend}});
  if (*length.value > 0) return *length.value;
  throw CaseError({{"halftool stock", 0, name, text, "a thickness above 0", "choose a larger value"}});
}

/// A picture asked for by name is drawn as its ending says.
void require_picture_name(const std::string& verb, const std::filesystem::path& picture) {
  const auto ending = picture.extension();
  if (picture.empty() || ending == ".svg" || ending == ".png") return;
  throw CaseError(
      {{verb, 0, "--picture", picture.string(), "a name that ends in .svg or .png",
        "write for example " + std::filesystem::path(picture).replace_extension(".png").string()}});
}

/// The folder is made if it is not there.
std::filesystem::path picture_in(const std::string& folder, const std::string& name) {
  std::error_code code;
  std::filesystem::create_directories(folder, code);
  if (code) throw FolderError(folder + ": the folder cannot be made: " + code.message());
  return std::filesystem::path(folder) / name;
}

void add_fit(CLI::App& stock, Arguments& arguments) {
  auto* fit = stock.add_subcommand("fit", "Fit hardening laws to a tensile test");
  fit->add_option("TENSILE.csv", arguments.fit.file, "table of the test")->required()->type_name("");
  fit->add_option("--name", arguments.fit.name, "of the sheet (default: the file's)")->type_name("TEXT");
  fit->add_option("--modulus", arguments.modulus, "Young's modulus, where the test does not show it")
      ->type_name("\"70 GPa\"");
  fit->add_option("--picture", arguments.fit.picture, "draw curve and laws, .svg or .png")->type_name("FILE");
  fit->add_option("-o,--out", arguments.folder, "draw them into this folder, as the file's name with .svg")
      ->type_name("DIR");
  fit->footer(
      std::string(
          "The table: one line of headings, then rows; comma, semicolon or tab between columns, decimal\n"
          "comma with semicolon or tab. One column of strain and one of stress, for example\n"
          "  engineering strain [%]; engineering stress [MPa]\n\n"
          "Example\n"
          "  halftool stock fit coil-7.csv --name \"DC04, coil 7\" --picture coil-7.svg\n\n") +
      exit_codes);
}

void add_stock(CLI::App& app, Arguments& arguments) {
  auto* stock = app.add_subcommand("stock", "List sheets with sourced constants, or show one");
  stock->add_option("NAME", arguments.stock.name, "sheet to show; without it all are listed")->type_name("");
  stock->add_option("--picture", arguments.stock.picture, "draw hardening and forming limit, .svg or .png")
      ->type_name("FILE");
  stock->add_option("-o,--out", arguments.folder, "draw them into this folder, as NAME.svg")
      ->type_name("DIR");
  stock->add_option("--thickness", arguments.thickness, "for the estimated forming limit (default 1 mm)")
      ->type_name("\"1 mm\"");
  stock->footer(
      std::string(
          "Grades, best first: measured certificate, measured publication, handbook typical, guessed.\n\n"
          "Examples\n"
          "  halftool stock\n"
          "  halftool stock fit coil-7.csv\n"
          "  halftool stock AA6061-O --picture sheet.svg\n\n") +
      exit_codes);
  add_fit(*stock, arguments);
}

/// A modulus given as an option: "70 GPa".
double modulus_option(const std::string& text) {
  const auto modulus = parse_quantity(text, Dimension::pressure);
  if (!modulus.value)
    throw CaseError(
        {{"halftool stock fit", 0, "--modulus", text, modulus.fault.allowed, modulus.fault.mend}});
  constexpr double softest = 1e4, stiffest = 5e5;  // as in a case file
  if (*modulus.value >= softest && *modulus.value <= stiffest) return *modulus.value;
  throw CaseError({{"halftool stock fit", 0, "--modulus", text, "10 GPa to 500 GPa", "check the unit"}});
}

int run_fit_verb(Arguments& arguments) {
  FitOptions& options = arguments.fit;
  require_picture_name("halftool stock fit", options.picture);
  if (!arguments.modulus.empty()) options.modulus = modulus_option(arguments.modulus);
  if (!arguments.folder.empty() && options.picture.empty())
    options.picture = picture_in(arguments.folder, options.file.stem().string() + ".svg");
  return run_fit(options);
}

int run_stock(const CLI::App& stock, Arguments& arguments) {
  if (stock.got_subcommand("fit")) return run_fit_verb(arguments);
  StockOptions& options = arguments.stock;
  require_picture_name("halftool stock", options.picture);
  if (options.name.empty()) {
    for (const auto& [option, value] :
         {std::pair("--picture", options.picture.string()), std::pair("--out", arguments.folder),
          std::pair("--thickness", arguments.thickness)})
      if (!value.empty())
        throw CaseError({{"halftool stock", 0, option, value, "this option beside the name of a sheet",
                          "name the sheet: halftool stock NAME"}});
    return run_stock_list();
  }
  if (!arguments.thickness.empty()) options.thickness = length_option("--thickness", arguments.thickness);
  if (!arguments.folder.empty() && options.picture.empty())
    options.picture = picture_in(arguments.folder, options.name + ".svg");
  return run_stock_show(options);
}

int run(const CLI::App& app, Arguments& arguments) {
  if (app.got_subcommand("keys")) {
    if (arguments.results)
      std::cout << summary_keys_markdown();
    else
      std::cout << (arguments.markdown ? print_key_reference_markdown() : print_key_reference());
    return as_int(ExitCode::done);
  }
  if (app.got_subcommand("stock")) return run_stock(*app.get_subcommand("stock"), arguments);
  if (app.got_subcommand("sheets")) return run_sheets(arguments.sheets);
  if (app.got_subcommand("scatter"))
    return run_scatter(read_case(arguments.sheets.case_file), arguments.sheets);
  auto job = read_case(arguments.case_file);
  if (app.got_subcommand("check")) return run_check(job);
  if (app.got_subcommand("reckon")) return run_reckon(job, arguments.reckon);
  if (arguments.threads >= 0) {
    job.settings.threads = arguments.threads;
    job.given["effort.threads"] = 0;
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
              << n << (n == 1 ? " error" : " errors")
              << (app.got_subcommand("stock") ? " in the input; nothing was written\n"
                                              : " in the case; nothing was run\n");
    return as_int(ExitCode::input_wrong);
  } catch (const FolderError& error) {
    std::cerr << error.what() << "\nnothing was run\n";
    return as_int(ExitCode::input_wrong);
  } catch (const WriteError& error) {
    std::cerr << error.what() << "\nchoose another place for it\n";
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

/// Starts the program anew where its library of dense products took kernels that are slower than the
/// processor; goes on as it is where the user chose them or that fails.
void start_with_fitting_kernels(char** argv) {
  constexpr const char* kChoice = "OPENBLAS_CORETYPE";
  if (std::getenv(kChoice) != nullptr) return;
  const std::string kernels = halftool::solver::fitting_kernels();
  if (kernels.empty() || setenv(kChoice, kernels.c_str(), 1) != 0) return;
  (void)execv("/proc/self/exe", argv);
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
  add_reckon(app, arguments);
  add_sheets(app, arguments);
  add_scatter(app, arguments);
  add_keys(app, arguments);
  add_stock(app, arguments);
  app.footer(std::string("Examples\n"
                         "  halftool check bracket.toml\n"
                         "  halftool reckon bracket.toml\n"
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
  const auto asked = [&app](const char* verb) { return app.got_subcommand(verb); };
  if (asked("press") || asked("sheets") || asked("scatter")) start_with_fitting_kernels(argv);
  return run_safely(app, arguments);
}
