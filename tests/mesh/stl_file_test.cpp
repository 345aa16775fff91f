#include "mesh/stl_file.hpp"

#include <gmock/gmock.h>

#include <fstream>

#include "tests/support/stl_files.hpp"

namespace halftool::mesh {
namespace {

using halftool::testing::faceted_block;
using halftool::testing::loose_facets;
using halftool::testing::PassingFile;
using ::testing::AllOf;
using ::testing::HasSubstr;

std::string message(const std::string& path) {
  try {
    read_stl(path, 1);
  } catch (const MeshError& error) {
    return error.what();
  }
  return "no error";
}

std::string message_of_text(const std::string& text) {
  const PassingFile file("faulty.stl");
  std::ofstream(file.path(), std::ios::binary) << text;
  return message(file.path());
}

TEST(StlFile, BinaryAndTextHoldTheSameFacets) {
  const SurfaceMesh block = loose_facets(faceted_block({}));
  const PassingFile binary("binary.stl"), text("text.stl");
  halftool::testing::write_binary_stl(block, binary.path());
  halftool::testing::write_text_stl(block, text.path());
  for (const auto& path : {binary.path(), text.path()}) {
    const SurfaceMesh read = read_stl(path, 1);
    ASSERT_EQ(read.n_triangles(), block.n_triangles());
    EXPECT_TRUE(read.triangles == block.triangles);
    EXPECT_LT((read.nodes - block.nodes).cwiseAbs().maxCoeff(), 2e-6);
  }
}

TEST(StlFile, BinaryThatBeginsWithSolidIsToldByItsSize) {
  const PassingFile file("solid.stl");
  halftool::testing::write_binary_stl(faceted_block({}), file.path(), "solid block, facet normal");
  EXPECT_EQ(read_stl(file.path(), 1).n_triangles(), faceted_block({}).n_triangles());
}

TEST(StlFile, TheUnitScalesTheCoordinates) {
  const PassingFile file("inch.stl");
  halftool::testing::write_binary_stl(faceted_block({}), file.path());
  EXPECT_NEAR(read_stl(file.path(), 25.4).nodes.col(0).maxCoeff(), 25.4 * 30, 1e-4);
}

TEST(StlFile, CapitalsSignsAndWindowsLinesAreRead) {
  const PassingFile file("capitals.stl");
  std::ofstream(file.path(), std::ios::binary)
      << "SOLID\r\nFACET NORMAL 0 0 1\r\nOUTER LOOP\r\nVERTEX +1.5E+0 0 0\r\nVERTEX 0 1 0\r\nVERTEX 0 0 "
         "-1\r\nENDLOOP\r\nENDFACET\r\nENDSOLID\r\n";
  const SurfaceMesh read = read_stl(file.path(), 1);
  ASSERT_EQ(read.n_triangles(), 1);
  EXPECT_EQ(read.nodes(0, 0), 1.5);
  EXPECT_EQ(read.nodes(2, 2), -1);
}

TEST(StlFile, NamesWhatIsWrong) {
  EXPECT_THAT(message("no/such.stl"), HasSubstr("there is no STL file 'no/such.stl'"));
  EXPECT_THAT(message_of_text(""), HasSubstr("0 bytes are too few for a binary file"));
  EXPECT_THAT(message_of_text("solid nothing\nendsolid nothing\n"), HasSubstr("holds no facets"));
  EXPECT_THAT(message_of_text(std::string(84, '\0')), HasSubstr("holds no facets"));
  EXPECT_THAT(
      message_of_text(std::string(80, ' ') + std::string("\2\0\0\0", 4) + std::string(70, ' ')),
      AllOf(HasSubstr("154 bytes are not the 184 of a binary file of 2 facets"), HasSubstr("cut off")));
  const std::string head = "solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\n";
  EXPECT_THAT(message_of_text(head + "vertex 1,5 0 0\nendloop\nendfacet\nendsolid\n"),
              AllOf(HasSubstr("line 6 of"), HasSubstr("'1,5' is no coordinate; write decimal numbers")));
  EXPECT_THAT(message_of_text(head + "vertex nan 0 0\n"), HasSubstr("'nan' is no coordinate"));
  EXPECT_THAT(message_of_text(head + "vertex 0 1\n"), HasSubstr("three coordinates"));
  EXPECT_THAT(message_of_text(head + "endloop\nendfacet\n"), HasSubstr("a facet needs three corners"));
  EXPECT_THAT(message_of_text(head), HasSubstr("the file ends within a facet"));
  EXPECT_THAT(message_of_text(head + "colour 3\n"), HasSubstr("'colour' is no word of STL"));
  SurfaceMesh bad = faceted_block({});
  bad.nodes(0, 0) = std::numeric_limits<double>::infinity();
  const PassingFile file("infinite.stl");
  halftool::testing::write_binary_stl(bad, file.path());
  EXPECT_THAT(message(file.path()), HasSubstr("has a corner that is no place"));
}

}  // namespace
}  // namespace halftool::mesh
