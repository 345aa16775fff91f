#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace halftool::io {

/// What a value measures. Internal units: mm, MPa, rad, s, N, ratio (1), MPa/mm, 1/s.
enum class Dimension { length, pressure, angle, time, force, ratio, pressure_per_length, strain_rate };

/// Why a text is not a quantity of the wanted dimension.
struct QuantityFault {
  std::string allowed;  ///< what may stand here, for example "a length: a number and mm, cm, m, in or thou"
  std::string mend;     ///< one action to take
};

/// A number in internal units, or the fault that keeps the text from being one.
struct ParsedQuantity {
  std::optional<double> value;
  QuantityFault fault;
};

/// Reads "14500 psi", "1.6mm", "15 deg", "12 %". A ratio may also be a bare number.
ParsedQuantity parse_quantity(std::string_view text, Dimension dimension);

/// The unit as it is written behind the number; empty: none, or no number.
std::string_view unit_of(std::string_view text);

/// Reads what a bare number in the file deserves: nothing but a ratio may go without a unit.
QuantityFault missing_unit(std::string_view number, Dimension dimension);

/// The same number under another unit of the dimension.
struct OtherReading {
  std::string text;  ///< "14500 psi"
  double value = 0;  ///< internal units
};
/// Readings of a quantity under the units that it may have been meant in: "14500 MPa" gives "14500 psi" and
/// others.
std::vector<OtherReading> other_readings(std::string_view text, Dimension dimension);

/// The value in the given unit with six significant digits, for reading: "1.6 mm".
/// @throws std::invalid_argument  the unit does not measure this dimension
std::string print_quantity(double value, Dimension dimension, std::string_view unit);

/// The value so that parse_quantity gives it back, to the last bit or the one before. The preferred unit is
/// used unless another unit of the dimension takes far fewer digits (99.9739796 MPa was written as 14500
/// psi).
std::string print_exactly(double value, Dimension dimension, std::string_view preferred_unit);

/// The shortest decimal text that reads back as the same number.
std::string print_number(double value);

/// "a length", "a pressure" ...
std::string_view dimension_name(Dimension dimension);

/// Names of the units of a dimension, the internal unit first.
std::vector<std::string> units_of(Dimension dimension);

}  // namespace halftool::io
