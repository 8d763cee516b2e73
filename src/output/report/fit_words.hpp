// How the curve of a panel was found, in names and sentences.
#pragma once

#include <plait/base/names.hpp>

#include <plait/physics/datasheet_fit.hpp>

#include <string_view>

namespace plait::output {

[[nodiscard]] inline std::string_view name_of(physics::FitForm form) {
    static constexpr Names names{
        Name{physics::FitForm::given, "given"},
        Name{physics::FitForm::prior_ideality, "prior-ideality"},
        Name{physics::FitForm::ideality_lowered, "ideality-lowered"},
        Name{physics::FitForm::five_parameters, "de-soto-five-parameters"},
        Name{physics::FitForm::four_parameters, "de-soto-four-parameters"},
        Name{physics::FitForm::no_sharp_knee, "no-sharp-knee"},
        Name{physics::FitForm::sharpest_knee, "sharpest-knee"},
        Name{physics::FitForm::pmax_out_of_reach, "pmax-out-of-reach"},
    };
    return name_in(names, form);
}

[[nodiscard]] inline std::string_view sentence_of(physics::FitForm form) {
    static constexpr Names names{
        Name{physics::FitForm::given, "The five parameters are those of the file."},
        Name{physics::FitForm::prior_ideality,
             "Single diode with the technology's usual ideality; Isc, Voc, Vmp and Imp are met exactly."},
        Name{physics::FitForm::ideality_lowered,
             "Single diode with the largest ideality these figures allow; Isc, Voc, Vmp and Imp are met exactly."},
        Name{physics::FitForm::five_parameters,
             "De Soto's five equations: Isc, Voc, Vmp, Imp and the Voc coefficient are met."},
        Name{physics::FitForm::four_parameters,
             "Fall-back: De Soto's five equations have no physical solution here; four, without a shunt, are "
             "met."},
        Name{physics::FitForm::no_sharp_knee,
             "Fall-back: no diode curve passes exactly through these figures; Isc, Voc and Pmax are met, Vmp and "
             "Imp nearly."},
        Name{physics::FitForm::sharpest_knee,
             "Fall-back: the fill factor asks for a very sharp knee; Isc, Voc and Pmax are met, Vmp and Imp "
             "nearly."},
        Name{physics::FitForm::pmax_out_of_reach,
             "Fall-back: no diode curve has this fill factor; Isc and Voc are met, Pmax as nearly as possible. "
             "Check the datasheet."},
    };
    return name_in(names, form);
}

[[nodiscard]] inline std::string_view word_of(physics::Closure closure) {
    static constexpr Names names{
        Name{physics::Closure::met, "met"},
        Name{physics::Closure::clipped, "met only partly"},
        Name{physics::Closure::left_alone, "not used"},
    };
    return name_in(names, closure);
}

}  // namespace plait::output
