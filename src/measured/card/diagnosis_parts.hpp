// What readings say apart from the fault that explains them best. Private to the study layer.
#pragma once

#include <plait/measured/diagnosis.hpp>

namespace plait::measured {

/// Why nothing may be connected; the readings and suspects of `d` must be there.
void add_stops(const FieldModel& model, Diagnosis& d);

/// The cells' temperature, of a reading of an open voltage that some temperature explains.
void add_cell_temperature(const FieldModel& model, const MeterReading& reading, Diagnosis& d);

}  // namespace plait::measured
