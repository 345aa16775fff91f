#pragma once
#include "io/case/case.hpp"

namespace halftool::io {

/// Builds tool and blank, prints the complete case as TOML (facts of the meshes and the screens of the tool
/// half as comments), solves nothing.
/// @return  exit code, see ExitCode
int run_check(Case job);

/// Warnings to the error stream, so that printed cases stay readable by a program.
void print_warnings(const std::vector<CaseWarning>& warnings);
void print_warnings(const std::vector<std::string>& warnings);

}  // namespace halftool::io
