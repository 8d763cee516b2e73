// The wiring is as planned; a figure it is compared with is not.
#include "faults.hpp"

namespace plait::measured {
namespace {

void suspect_light(const FaultScene& scene, Suspicions& out) {
    Suspicion s;
    s.amounts = {0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.1, 1.2, 1.35, 1.5, 1.75, 2.0};
    s.example_factor = 0.7;
    s.state = [planned = &scene.planned](double amount) {
        FieldState state = *planned;
        state.light_factor = amount;
        return state;
    };
    out.push_back(std::move(s));
}

void suspect_coefficient(const FaultScene& scene, Suspicions& out) {
    for (std::size_t kind = 0; kind < scene.setup.kinds.size(); ++kind) {
        bool used = false;
        for (const InputWiring& wiring : scene.plan) used = used || wiring.panel_count(kind) > 0;
        if (!used) continue;
        const double stated = scene.setup.kinds[kind].panel.voc_coefficient_per_k;
        Suspicion s;
        s.place.kind = kind;
        // True coefficients from none at all to that of a poor thin film, −0.6 %/K.
        for (const double true_per_k : {-0.006, -0.005, -0.004, -0.0033, -0.0027, -0.002, -0.001, 0.0}) {
            s.amounts.push_back(true_per_k - stated);
        }
        s.example_factor = -0.0015;
        s.state = [planned = &scene.planned, kind](double amount) {
            FieldState state = *planned;
            state.shifted_kind = kind;
            state.coefficient_shift_per_k = amount;
            return state;
        };
        out.push_back(std::move(s));
    }
}

void suspect_meter(const FaultScene& scene, Suspicions& out) {
    // Milli for whole, and a decimal point read one place off.
    for (const double factor : {0.1, 10.0, 0.001, 1000.0}) {
        out.push_back(certain(scene, {}, [factor](FieldState& state) { state.volts_shown_factor = factor; }));
        out.push_back(certain(scene, {}, [factor](FieldState& state) { state.amps_shown_factor = factor; }));
    }
}

}  // namespace

const Fault light_differs{
    .id = "light-differs",
    .title = "other light than given",
    .meaning = "every current is off by the same share",
    .remedy = "Hold the sensor in the panels' plane, wait for steady sun, and measure light and current at one time.",
    .amount = AmountKind::light_factor,
    .weight = 3.0,
    .suspect = &suspect_light,
};

const Fault coefficient_differs{
    .id = "coefficient-differs",
    .title = "wrong Voc coefficient",
    .meaning =
        "every voltage of these panels is off by the same share, the more the further the cells are from 25 °C; cells "
        "at another temperature than given look the same",
    .remedy =
        "Read the Voc coefficient and its unit on the datasheet again, and measure the cells' temperature on the "
        "back of a panel. In the cold a wrong coefficient is dangerous: settle it before winter.",
    .amount = AmountKind::coefficient_per_k,
    .weight = 2.0,
    .suspect = &suspect_coefficient,
};

const Fault meter_range{
    .id = "meter-range",
    .title = "meter in the wrong range",
    .meaning = "every voltage, or every current, of the meter is ten or a thousand times too much or too little",
    .remedy = "Read the unit in the meter's window, V or mV, A or mA, and where its point stands; measure again.",
    .weight = 1.0,
    .suspect = &suspect_meter,
};

}  // namespace plait::measured
