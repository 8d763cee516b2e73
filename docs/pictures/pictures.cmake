# Makes every picture of the documentation from the demo, or says which of them is stale. From the source folder:
#
#     cmake -DPLAIT=build/release/plait -DREFRESH=ON -P docs/pictures/pictures.cmake
#
# Without REFRESH nothing is written: each picture is compared, as text, with what the program draws now (the test does
# that).
cmake_minimum_required(VERSION 3.25)
cmake_path(GET CMAKE_CURRENT_LIST_DIR PARENT_PATH docs)
cmake_path(GET docs PARENT_PATH source)
cmake_path(ABSOLUTE_PATH PLAIT BASE_DIRECTORY ${CMAKE_CURRENT_BINARY_DIR} NORMALIZE)
cmake_path(GET PLAIT PARENT_PATH folder)

function(picture name)
    set(kept ${CMAKE_CURRENT_LIST_DIR}/${name}.svg)
    set(drawn ${folder}/picture-${name}.svg)
    if(REFRESH)
        set(drawn ${kept})
    endif()
    list(APPEND names ${name})
    set(names ${names} PARENT_SCOPE)
    execute_process(COMMAND ${PLAIT} ${ARGN} --svg ${drawn} WORKING_DIRECTORY ${source} OUTPUT_QUIET
                    ERROR_VARIABLE err RESULT_VARIABLE result)
    # 1: a limit is broken, which is what some of them show.
    if(NOT result MATCHES "^[01]$")
        message(SEND_ERROR "plait ${ARGN}: exit code ${result}\n${err}")
        return()
    endif()
    execute_process(COMMAND ${CMAKE_COMMAND} -E compare_files --ignore-eol ${kept} ${drawn} RESULT_VARIABLE differs)
    if(differs)
        message(SEND_ERROR "docs/pictures/${name}.svg is not what the program draws now (${drawn}); look at both, "
                           "then refresh it as the head of this script says")
    endif()
endfunction()

picture(allotment-map check docs/demo/allotment.toml)
picture(van-map check docs/demo/van.toml)
picture(mixed-wiring check docs/demo/mixed.toml --input PV2 --picture wiring)
picture(barn-wiring check docs/demo/barn.toml --picture wiring)
picture(shaded-curve curve docs/demo/shaded.toml)
picture(mixed-trade-offs arrange docs/demo/mixed.toml --picture trade-offs)
picture(hut-day charge docs/demo/hut.toml --from "20 %")
picture(van-log explain docs/demo/van.toml docs/demo/van-log.csv --wiring 1s4p)
picture(small-station-wants match docs/demo/inputs/small-station.toml --site docs/demo/van.toml)
picture(workshop-sweep learn docs/demo/workshop-sweep.csv --against docs/demo/workshop.toml)

picture(allotment-day harvest docs/demo/allotment.toml --wiring "PV1=2s3p\; PV2=unused" --day 04-10)
picture(allotment-year harvest docs/demo/allotment.toml --wiring "PV1=2s3p\; PV2=unused")
picture(allotment-carpet harvest docs/demo/allotment.toml --wiring "PV1=2s3p\; PV2=unused" --picture carpet)
picture(allotment-horizon harvest docs/demo/allotment.toml --wiring "PV1=2s1p\; PV2=4s1p" --picture horizon)

# A picture that nothing here makes would never be seen to be stale.
file(GLOB files RELATIVE ${CMAKE_CURRENT_LIST_DIR} ${CMAKE_CURRENT_LIST_DIR}/*.svg)
foreach(file IN LISTS files)
    cmake_path(GET file STEM stem)
    if(NOT stem IN_LIST names)
        message(SEND_ERROR "docs/pictures/${file} is made by no line of docs/pictures/pictures.cmake")
    endif()
endforeach()
