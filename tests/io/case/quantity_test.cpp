#include "io/case/quantity.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <stdexcept>

namespace halftool::io {
namespace {

double value_of(std::string_view text, Dimension dimension) {
  const auto parsed = parse_quantity(text, dimension);
  EXPECT_TRUE(parsed.value.has_value()) << text << ": " << parsed.fault.mend;
  return parsed.value.value_or(std::nan(""));
}

std::string mend_of(std::string_view text, Dimension dimension) {
  const auto parsed = parse_quantity(text, dimension);
  EXPECT_FALSE(parsed.value.has_value()) << text;
  return parsed.fault.mend;
}

// Factors: NIST Special Publication 811 (Thompson and Taylor 2008), appendix B.8.
TEST(Quantity, UnitsAgreeWithPublishedFactors) {
  EXPECT_DOUBLE_EQ(value_of("1 in", Dimension::length), 25.4);
  EXPECT_DOUBLE_EQ(value_of("63 thou", Dimension::length), 1.6002);
  EXPECT_DOUBLE_EQ(value_of("2 cm", Dimension::length), 20);
  EXPECT_DOUBLE_EQ(value_of("0.5 m", Dimension::length), 500);
  EXPECT_NEAR(value_of("1 psi", Dimension::pressure), 6.894757e-3, 1e-9);
  EXPECT_NEAR(value_of("1 ksi", Dimension::pressure), 6.894757, 1e-6);
  EXPECT_DOUBLE_EQ(value_of("1 bar", Dimension::pressure), 0.1);
  EXPECT_DOUBLE_EQ(value_of("250 kPa", Dimension::pressure), 0.25);
  EXPECT_DOUBLE_EQ(value_of("69 GPa", Dimension::pressure), 69000);
  EXPECT_DOUBLE_EQ(value_of("180 deg", Dimension::angle), std::numbers::pi);
  EXPECT_DOUBLE_EQ(value_of("1.5 min", Dimension::time), 90);
  EXPECT_NEAR(value_of("1 lbf", Dimension::force), 4.448222, 1e-6);
  EXPECT_DOUBLE_EQ(value_of("2 kN", Dimension::force), 2000);
  EXPECT_DOUBLE_EQ(value_of("12 %", Dimension::ratio), 0.12);
  EXPECT_DOUBLE_EQ(value_of("0.25 /s", Dimension::strain_rate), 0.25);
}

TEST(Quantity, ThePressOfTheTradeIsAHundredMegapascal) {
  EXPECT_NEAR(value_of("14500 psi", Dimension::pressure), 99.97, 0.005);
}

TEST(Quantity, AcceptsPlainWaysOfWriting) {
  EXPECT_DOUBLE_EQ(value_of("1.6mm", Dimension::length), 1.6);
  EXPECT_DOUBLE_EQ(value_of("  +1.6   mm ", Dimension::length), 1.6);
  EXPECT_DOUBLE_EQ(value_of("-.5 deg", Dimension::angle), -0.5 * std::numbers::pi / 180);
  EXPECT_DOUBLE_EQ(value_of("1e3 mm", Dimension::length), 1000);
  EXPECT_DOUBLE_EQ(value_of("0.25", Dimension::ratio), 0.25);
}

TEST(Quantity, RefusesWithAdvice) {
  EXPECT_EQ(mend_of("1,6 mm", Dimension::length), "use a decimal point: \"1.6 mm\"");
  EXPECT_EQ(mend_of("0.1 1/s", Dimension::strain_rate), "another spelling is used here; write /s");
  EXPECT_EQ(mend_of("0.1", Dimension::strain_rate),
            "a strain rate needs a unit and quotation marks, for example \"0.1 /s\"; 0.1 of what?");
  EXPECT_EQ(mend_of("14,500 psi", Dimension::pressure),
            "write \"14500 psi\" (no thousands separator), or \"14.500 psi\" if a decimal point is meant");
  EXPECT_EQ(mend_of("63 mil", Dimension::length),
            "mil may mean a thousandth of an inch or a millimetre; write thou or mm");
  EXPECT_EQ(mend_of("16 gauge", Dimension::length),
            "gauge numbers differ from metal to metal; write the thickness in mm or in");
  EXPECT_EQ(mend_of("20 ton", Dimension::force),
            "there are three kinds of ton; write for example \"120 kN\"");
  EXPECT_EQ(mend_of("1000 kg/cm2", Dimension::pressure),
            "a kilogram is no force; write bar (1 kg/cm2 is 0.980665 bar)");
  EXPECT_EQ(mend_of("100 Mpa", Dimension::pressure), "unknown unit \"Mpa\"; did you mean \"100 MPa\"?");
  EXPECT_EQ(mend_of("100 furlong", Dimension::length),
            "unknown unit \"furlong\"; write for example \"1.6 mm\" or \"0.063 in\"");
  EXPECT_EQ(mend_of("100 MPa", Dimension::length),
            "MPa is the unit of a pressure; a length is needed here, for example \"1.6 mm\" or \"0.063 in\"");
  EXPECT_EQ(mend_of("14500", Dimension::pressure),
            "a pressure needs a unit and quotation marks, for example \"14500 psi\" or \"100 MPa\"; 14500 of "
            "what?");
}

TEST(Quantity, RefusesWhatIsNoNumber) {
  for (const auto* text :
       {"", " ", "mm", "-", "inf mm", "nan mm", "- 3 mm", "one mm", "1e999 mm", "--3 mm", "+-3 mm"})
    EXPECT_FALSE(parse_quantity(text, Dimension::length).value.has_value()) << text;
  EXPECT_FALSE(parse_quantity("low", Dimension::ratio).value.has_value());
  EXPECT_FALSE(parse_quantity("1 2 mm", Dimension::length).value.has_value());
  EXPECT_FALSE(parse_quantity("0x10 mm", Dimension::length).value.has_value());
}

TEST(Quantity, PrintsForReading) {
  EXPECT_EQ(print_quantity(1.6002, Dimension::length, "in"), "0.063 in");
  EXPECT_EQ(print_quantity(99.97398, Dimension::pressure, "psi"), "14500 psi");
  EXPECT_EQ(print_quantity(0.125, Dimension::ratio, "%"), "12.5 %");
  EXPECT_EQ(print_quantity(0.125, Dimension::ratio, ""), "0.125");
  EXPECT_THROW(print_quantity(1, Dimension::length, "psi"), std::invalid_argument);
  EXPECT_THROW(print_exactly(1, Dimension::length, "furlong"), std::invalid_argument);
}

TEST(Quantity, PrintsInTheUnitThatWasMostLikelyWritten) {
  EXPECT_EQ(print_exactly(value_of("14500 psi", Dimension::pressure), Dimension::pressure, "MPa"),
            "14500 psi");
  EXPECT_EQ(print_exactly(value_of("0.0625 in", Dimension::length), Dimension::length, "mm"), "1.5875 mm");
  EXPECT_EQ(print_exactly(value_of("35 deg", Dimension::angle), Dimension::angle, "deg"), "35 deg");
  EXPECT_EQ(print_exactly(150, Dimension::length, "mm"), "150 mm");
  EXPECT_EQ(print_exactly(1e-5, Dimension::pressure_per_length, "MPa/mm"), "1e-05 MPa/mm");
}

TEST(Quantity, PrintedExactlyReadsBack) {
  for (const auto& [dimension, preferred] : {std::pair{Dimension::length, "mm"},
                                             {Dimension::pressure, "MPa"},
                                             {Dimension::angle, "deg"},
                                             {Dimension::time, "s"},
                                             {Dimension::force, "N"},
                                             {Dimension::ratio, "%"},
                                             {Dimension::ratio, ""}}) {
    double value = 1e-7;
    for (int i = 0; i < 400; ++i, value *= 1.0837) {
      const auto text = print_exactly(value, dimension, preferred);
      // print_exactly settles for 4e-16; reading back rounds once more
      EXPECT_NEAR(value_of(text, dimension), value, 5.2e-16 * value) << text;
    }
  }
}

TEST(Quantity, UnitIsReadAsItIsWritten) {
  EXPECT_EQ(unit_of("14500 psi"), "psi");
  EXPECT_EQ(unit_of(" +1.6mm "), "mm");
  EXPECT_EQ(unit_of("0.2"), "");
  EXPECT_EQ(unit_of("psi"), "");
}

TEST(Quantity, OffersOtherReadingsOfANumber) {
  const auto readings = other_readings("14500 MPa", Dimension::pressure);
  bool found = false;
  for (const auto& [text, value] : readings)
    found = found || (text == "14500 psi" && std::abs(value - 99.974) < 1e-3);
  EXPECT_TRUE(found);
  for (const auto& reading : readings) EXPECT_NE(reading.text, "14500 MPa");
}

}  // namespace
}  // namespace halftool::io
