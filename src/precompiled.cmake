# A third of the time to compile went into reading the headers of the standard library and of fmt once more for each source
# (85 sources of model, physics and rules, a release: 128 CPU-seconds, 190 without). g++ compiles them once, and every source
# begins with them. No source may lean on that: each includes what it uses. Other compilers keep to plain headers, so that
# clang and the page for browsers show what is missing. g++ 12 then takes some sums of a long std::string and a literal for a
# write past its end (-Warray-bounds): a fault of the compiler, and fmt::format or += are as good.
option(PLAIT_PRECOMPILED "Compile the headers of the standard library once for all sources (g++ only)" ON)

set(plait_standard_headers
    <algorithm> <array> <cmath> <cstddef> <cstdint> <functional> <limits> <map> <memory> <numeric> <optional> <set> <span>
    <string> <string_view> <tuple> <utility> <variant> <vector>)

# plait_headers(plait_headers_with_fmt LINKS fmt::fmt HEADERS …) makes a set of compiled headers by that name.
function(plait_headers name)
    if(NOT PLAIT_PRECOMPILED OR NOT CMAKE_CXX_COMPILER_ID STREQUAL "GNU")
        return()
    endif()
    cmake_parse_arguments(PARSE_ARGV 1 arg "" "" "HEADERS;LINKS")
    file(CONFIGURE OUTPUT ${name}.cpp CONTENT "")
    add_library(${name} OBJECT ${CMAKE_CURRENT_BINARY_DIR}/${name}.cpp)
    target_link_libraries(${name} PRIVATE ${arg_LINKS} plait_warnings)
    target_precompile_headers(${name} PRIVATE ${plait_standard_headers} ${arg_HEADERS})
endfunction()

# plait_precompiled(TARGET SET) lets all sources of a target begin with a set, where there are sets at all.
function(plait_precompiled target set)
    if(TARGET ${set})
        target_precompile_headers(${target} REUSE_FROM ${set})
    endif()
endfunction()

# fmt brings a macro, and g++ takes compiled headers only for the same macros: layers without fmt have a set of their own.
plait_headers(plait_headers_plain)
plait_headers(plait_headers_with_fmt LINKS fmt::fmt HEADERS <fmt/core.h> <fmt/format.h>)
