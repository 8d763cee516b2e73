// A controller file that the program wrote, read by the program.
#pragma once

#include <plait/input/read_controller.hpp>

#include <catch2/catch.hpp>

#include <string>

namespace plait::cli {

inline Controller read_back(const std::string& text) {
    const auto read = input::read_controller(text, "out.toml");
    std::string complaints;
    if (!read) {
        for (const Diagnostic& d : read.error()) complaints += d.message + "\n";
    }
    INFO(text << complaints);
    REQUIRE(read);
    return read->controller;
}

}  // namespace plait::cli
