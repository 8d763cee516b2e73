# Fails when a double in a public header does not say its unit. Run: cmake -DROOT=<source> -P unit_names.cmake
set(units
    "_v|_a|_w|_wh|_ws|_ohm|_s|_h|_ev|_degc|_k|_ohm_per_m|_per_k|_per_v|_v_per_k|_a_per_k|_w_per_m2|_a_per_w|_m|_mm|_mm2|_g|_ratio|_factor|_deg|_au|_days|_pa|_ah|_years")
# Names that carry no unit because the unit travels beside them, that have none, or that are the unit.
set(free "value|[a-z_]+_value|limit|binding_limit|margin|count|[a-z_]+_count|weight|ideality|price"
    "shunt_light_power|saturation_light_power" "degc|s|per_v" "solve|solve_at_joint"
    # ends of a range, in the unit of what it is a range of
    "low|high"
    # of an angle
    "incidence_cosine"
    # money, in the set-up's currency
    "panels_price|controller_price|total_price|price_of")
# A function named after a quantity gives it in the unit of the SI: voltage_at_current(…).
set(quantity "(voltage|current|power)_[a-z_]+\\(")
list(JOIN free "|" free)
file(GLOB_RECURSE headers RELATIVE "${ROOT}" "${ROOT}/include/*.hpp")
if(NOT headers)
    message(SEND_ERROR "no header found under '${ROOT}/include'")
endif()
foreach(header IN LISTS headers)
    # Only the lines with a double and a name after it; [ ] would upset CMake's lists.
    file(STRINGS "${ROOT}/${header}" lines REGEX "(double|optional<double>)[&*]? +[a-z]")
    foreach(line IN LISTS lines)
        if(line MATCHES "^ *//")
            continue()
        endif()
        string(REGEX REPLACE "//.*" "" line "${line}")
        string(REGEX MATCHALL "(double|optional<double>)[&*]? +[a-z][a-z0-9_]*[(]?" names "${line}")
        foreach(name IN LISTS names)
            string(REGEX REPLACE "^.* +" "" name "${name}")
            if(name STREQUAL "operator" OR name MATCHES "^${quantity}$")
                continue()
            endif()
            string(REGEX REPLACE "_?[(]$|_$" "" name "${name}")  # a private member ends in _
            if(NOT name MATCHES "(${units})$" AND NOT name MATCHES "^(${free})$")
                message(SEND_ERROR "${header}: double '${name}' does not say its unit")
            endif()
        endforeach()
    endforeach()
endforeach()
