#include <plait/physics/student_t.hpp>

#include <boost/math/distributions/students_t.hpp>

#include <algorithm>

namespace plait::physics {

double student_t_95_ratio(int freedom) {
    // Without promotion to long double, which a browser build computes in software.
    using Policy = boost::math::policies::policy<boost::math::policies::promote_double<false>>;
    const boost::math::students_t_distribution<double, Policy> t(std::max(1, freedom));
    return boost::math::quantile(t, 0.975);
}

}  // namespace plait::physics
