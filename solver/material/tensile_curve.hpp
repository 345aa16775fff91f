#pragma once
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "solver/material/sheet_material.hpp"

namespace halftool::solver {

/// Why a table is not the tensile test that it should be: what was found, and one action to take.
class TensileError : public std::invalid_argument {
 public:
  TensileError(const std::string& found, std::string what_to_do)
      : std::invalid_argument(found), mend(std::move(what_to_do)) {}
  std::string mend;
};

/// One reading of a tensile test.
struct TensilePoint {
  double strain = 0;
  double stress = 0;  ///< [MPa]
};

/// A tensile test of a sheet, in the order in which it was read.
struct TensileTest {
  std::vector<TensilePoint> points;
  bool true_values = false;  ///< true strain and stress; else engineering
};

/// One point of a flow curve.
struct FlowPoint {
  double plastic_strain = 0;  ///< true
  double stress = 0;          ///< true [MPa]
};

/// What a tensile test says, engineering values unless said otherwise.
struct TensileCurve {
  double modulus = 0;  ///< slope of the elastic part, true stress over true strain, or the one given [MPa]
  bool modulus_given = false;
  double slope = 0;        ///< of the elastic part as read [MPa]; 0: none was found beside a given modulus
  double slope_error = 0;  ///< standard error of the slope, over it
  int n_elastic = 0;       ///< points that the slope was fitted to
  double elastic_from = 0, elastic_to = 0;  ///< true stresses between which they lie [MPa]
  double zero_strain = 0;  ///< true strain at which the elastic line meets zero stress; taken off all strains
  double offset_yield = 0;      ///< Rp0.2: where a line at 0.2 % plastic strain meets the curve [MPa]
  double tensile_strength = 0;  ///< greatest stress [MPa]
  double uniform_strain = 0;    ///< true strain at the greatest load, less zero_strain
  int n_necked = 0;             ///< points after the greatest load, cut off
  double plateau = 0;           ///< plastic strain at which a yield plateau ends; 0: there is none
  std::vector<FlowPoint> flow;  ///< from 0.2 % plastic strain, or the end of a plateau, to the greatest load
};

/// Plastic strain of the offset yield and of the first point of the flow curve.
inline constexpr double kOffsetStrain = 0.002;

/// Reads elastic part, offset yield, greatest load and flow curve out of a test. The elastic part is what
/// lies between 10 and 50 % of the offset yield, found by repetition; the limits are those which ISO 6892-1
/// names for the slope (from memory). True stress = s (1 + e), true strain = ln(1 + e) up to the greatest
/// load. A yield plateau, along which bands of flow cross the specimen (yield point extension, ISO 6892-1),
/// is no hardening of the metal: the flow curve begins behind it. It is one where the stress keeps within 1 %
/// over half a percent of strain or more and then rises by 3 % or more over as much (our judgement).
/// @param modulus  Young's modulus to be taken [MPa]; nothing: found. Beside it the slope of the elastic part
///        is the machine's as well: what the readings strain beyond the modulus along that line, and where
///        the line begins, are taken off all strains. Readings without an elastic part are taken as they are.
/// @throws TensileError  in plain words: fewer than 8 points, a greatest stress that others rise towards
/// again
///         (one bad reading, an upper yield point), no elastic part of at least 3 points and no modulus
///         given, a slope that no metal has, no offset yield, no flow curve of 6 points
TensileCurve read_tensile_curve(const TensileTest& test, std::optional<double> modulus = std::nullopt);

/// Engineering stresses that a tensile test of a metal with a hardening law would show.
struct TensileStrengths {
  double offset_yield = 0;      ///< Rp0.2 [MPa]
  double tensile_strength = 0;  ///< at Considere's point [MPa]
};
/// @param modulus  Young's modulus [MPa], > 0
/// @throws std::invalid_argument if the points of a table do not make a curve
TensileStrengths strengths_of(const Hardening& hardening, double modulus);

}  // namespace halftool::solver
