//! The numbers of RODAS4, a Rosenbrock method of order 4 with an error estimate of order 3 that
//! damps what is too fast to be followed.
//!
//! Source: Hairer and Wanner, *Solving Ordinary Differential Equations II*, section IV.10, in the
//! form that needs no product with the Jacobian; from memory, and held by the test of its order
//! in `integrate`.

/// The diagonal of the method.
pub(super) const GAMMA: f64 = 0.25;
/// How many stages a step has.
pub(super) const STAGES: usize = 6;
/// When each stage looks at the rates, in steps.
pub(super) const TIMES: [f64; STAGES] = [0.0, 0.386, 0.21, 0.63, 1.0, 1.0];
/// How much of the change of the rates with time each stage takes.
pub(super) const DRIFTS: [f64; STAGES] = [0.25, -0.1043, 0.1035, -0.3620000000000023e-1, 0.0, 0.0];
/// What of the stages before goes into the state of a stage; the last row and 1 make the result.
pub(super) const STATES: [&[f64]; STAGES] = [
    &[],
    &[1.544],
    &[0.946_678_528_081_582_6, 0.255_701_169_898_328_4],
    &[3.314_825_187_068_521, 2.896_124_015_972_201, 0.998_641_913_997_781_7],
    &[1.221_224_509_226_641, 6.019_134_481_288_629, 12.537_083_329_320_87, -0.687_886_036_105_895],
    &[
        1.221_224_509_226_641,
        6.019_134_481_288_629,
        12.537_083_329_320_87,
        -0.687_886_036_105_895,
        1.0,
    ],
];
/// What of the stages before goes into the right side of a stage, over the step.
pub(super) const SIDES: [&[f64]; STAGES] = [
    &[],
    &[-5.6688],
    &[-2.430_093_356_833_875, -0.206_359_915_709_191_5],
    &[-0.107_352_905_815_137_5, -9.594_562_251_023_355, -20.470_286_148_096_16],
    &[7.496_443_313_967_647, -10.246_804_314_643_52, -33.999_903_528_199_05, 11.708_908_932_061_6],
    &[
        8.083_246_795_921_522,
        -7.981_132_988_064_893,
        -31.521_594_328_743_71,
        16.319_305_431_231_36,
        -6.058_818_238_834_054,
    ],
];
