#include <plait/input/reference.hpp>

#include "reading.hpp"

#include <fstream>

namespace plait::input::test {
namespace {

std::string document() {
    const auto text = from_disk(source_dir + "/docs/input.md");
    REQUIRE(text);
    return *text;
}

TEST_CASE("docs/input.md ends with the tables the reader uses") {
    INFO("to renew: plait_input_tests \"[refresh]\" writes them behind the written part of docs/input.md");
    const std::string tables = reference_markdown();
    const std::string text = document();
    const std::size_t at = text.find("## Every key");
    REQUIRE(at != std::string::npos);
    CHECK(text.substr(at) == tables);
}

TEST_CASE("the example in docs/input.md is read without complaint, doubt or gap") {
    const std::string text = document();
    const std::string fence = "```toml\n";
    const std::size_t begin = text.find(fence);
    REQUIRE(begin != std::string::npos);
    const std::size_t end = text.find("```", begin + fence.size());
    REQUIRE(end != std::string::npos);
    const Setup setup = setup_of(text.substr(begin + fence.size(), end - begin - fence.size()),
                                 [](const std::string& path) { return from_disk(source_dir + "/" + path); });
    CHECK(setup.doubts.empty());
    for (const Assumption& a : setup.assumptions) UNSCOPED_INFO(a.subject << ": " << a.what);
    CHECK(setup.wiring);
}

TEST_CASE("write the tables into docs/input.md", "[.][refresh]") {
    const std::string text = document();
    std::ofstream file(source_dir + "/docs/input.md", std::ios::binary);
    file << text.substr(0, text.find("## Every key")) << reference_markdown();
    CHECK(file.flush());
}

}  // namespace
}  // namespace plait::input::test
