#include <plait/physics/student_t.hpp>

#include <catch2/catch.hpp>

TEST_CASE("Student's t is that of the printed table") {
    // NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, column 0.975 [from memory].
    using plait::physics::student_t_95_ratio;
    CHECK(student_t_95_ratio(1) == Approx(12.706).margin(0.0005));
    CHECK(student_t_95_ratio(2) == Approx(4.303).margin(0.0005));
    CHECK(student_t_95_ratio(5) == Approx(2.571).margin(0.0005));
    CHECK(student_t_95_ratio(10) == Approx(2.228).margin(0.0005));
    CHECK(student_t_95_ratio(30) == Approx(2.042).margin(0.0005));
    CHECK(student_t_95_ratio(1000000) == Approx(1.960).margin(0.0005));
}
