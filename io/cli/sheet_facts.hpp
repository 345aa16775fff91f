#pragma once
#include <string>

#include "solver/material/sheet_material.hpp"

namespace halftool::io {

/// What the constants of the sheet say of it, as comment lines for `halftool check`: flow stress, uniform
/// strain, how a table goes on, kind of hardening, and for Hill 1948 and Yld2000-2d constants, tension tests
/// and the miss of a fit.
std::string sheet_facts(const solver::SheetMaterial& material);

/// Kind of hardening and of unloading, and what springback has from them.
std::string hardening_words(const solver::SheetMaterial& material);

/// The factor that the press's strain rate brings, and what it comes from, or what else the rate sensitivity
/// is for; empty without one.
std::string rate_words(const solver::SheetMaterial& material);

/// The hardening law with its main constant in a few words: "Hollomon, n 0.2", "Voce to 292 MPa".
std::string law_words(const solver::Hardening& hardening);

/// The yield condition in a few words, for the line of trust; empty for von Mises.
std::string yield_words(const solver::YieldCondition& yield);

}  // namespace halftool::io
