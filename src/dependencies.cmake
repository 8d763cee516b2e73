# In the browser every library is a header: the system's own ones are put in the way one by one, because the system's
# other headers would hide emscripten's. Its search for packages finds none of them.
if(EMSCRIPTEN)
    include(emscripten_headers.cmake)
    return()
endif()

# The system's packages first; where a system has none, the same versions pinned from their own homes. Their headers are
# system headers: this project's warnings are about its own sources.
include(FetchContent)
set(FETCHCONTENT_QUIET OFF)

FetchContent_Declare(fmt GIT_REPOSITORY https://github.com/fmtlib/fmt.git GIT_TAG 9.1.0 SYSTEM FIND_PACKAGE_ARGS 9)
FetchContent_Declare(tomlplusplus GIT_REPOSITORY https://github.com/marzer/tomlplusplus.git GIT_TAG v3.3.0 SYSTEM
                     FIND_PACKAGE_ARGS 3.3)
FetchContent_Declare(CLI11 GIT_REPOSITORY https://github.com/CLIUtils/CLI11.git GIT_TAG v2.1.2 SYSTEM
                     FIND_PACKAGE_ARGS 2.1)
FetchContent_Declare(nlohmann_json GIT_REPOSITORY https://github.com/nlohmann/json.git GIT_TAG v3.11.2 SYSTEM
                     FIND_PACKAGE_ARGS 3.11)
FetchContent_Declare(FastFloat GIT_REPOSITORY https://github.com/fastfloat/fast_float.git GIT_TAG v3.9.0 SYSTEM
                     FIND_PACKAGE_ARGS 3.9)
FetchContent_MakeAvailable(fmt tomlplusplus CLI11 nlohmann_json FastFloat)
if(NOT TARGET FastFloat::fast_float)
    add_library(FastFloat::fast_float ALIAS fast_float)
endif()

# Of Boost only headers are used.
find_package(Boost 1.74 QUIET)
add_library(plait_boost INTERFACE)
if(Boost_FOUND)
    target_link_libraries(plait_boost INTERFACE Boost::headers)
else()
    FetchContent_Declare(Boost URL https://github.com/boostorg/boost/releases/download/boost-1.84.0/boost-1.84.0.tar.xz
                         SYSTEM)
    set(BOOST_INCLUDE_LIBRARIES math numeric/interval)
    FetchContent_MakeAvailable(Boost)
    target_link_libraries(plait_boost INTERFACE Boost::math Boost::numeric_interval)
endif()

# Of Eigen only headers, and only inside the library.
find_package(Eigen3 3.3 QUIET NO_MODULE)
add_library(plait_eigen INTERFACE)
if(Eigen3_FOUND)
    target_link_libraries(plait_eigen INTERFACE Eigen3::Eigen)
else()
    FetchContent_Declare(eigen GIT_REPOSITORY https://gitlab.com/libeigen/eigen.git GIT_TAG 3.4.0 SYSTEM SOURCE_SUBDIR none)
    FetchContent_MakeAvailable(eigen)
    target_include_directories(plait_eigen SYSTEM INTERFACE ${eigen_SOURCE_DIR})
endif()
