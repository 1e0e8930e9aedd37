//! The independent side: the same system handed to diffsol, set up as fast as it will go.
//!
//! The Jacobian is given analytically, with its sparsity, and copied, never differenced or coloured; it is constant, so
//! that its re-evaluation is put off for good and only the shifted matrix is factored when the step changes. Output is by
//! the method's own interpolation, without landing on the hours.

use diffsol::error::DiffsolError;
use diffsol::matrix::{MatrixRef, sparsity::MatrixSparsityRef};
use diffsol::{
    ConstantOp, DefaultDenseMatrix, DefaultSolver, Matrix, NonLinearOp, NonLinearOpJacobian, OdeBuilder, OdeEquations,
    OdeEquationsRef, OdeSolverMethod, OdeSolverProblem, OdeSolverStopReason, Op, Tableau, UnitCallable, Vector,
    VectorRef,
};

use std::rc::Rc;

use crate::semidiscrete::System;

/// Methods of the peer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Method {
    TrBdf2,
    Esdirk34,
    Bdf,
}

impl Method {
    pub const ALL: [Method; 3] = [Method::TrBdf2, Method::Esdirk34, Method::Bdf];

    pub fn name(self) -> &'static str {
        match self {
            Method::TrBdf2 => "TR-BDF2",
            Method::Esdirk34 => "ESDIRK34",
            Method::Bdf => "BDF",
        }
    }
}

/// How the peer chooses its steps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pace {
    /// As it comes.
    Stock,
    /// The fastest setting for each method that meets the target on the stated mesh, found by a search over growth,
    /// shrinkage, gains, the Newton tolerance and the refactoring threshold: knowing the answer, which flatters the peer.
    Tuned,
}

impl Pace {
    pub fn name(self) -> &'static str {
        match self {
            Pace::Stock => "stock",
            Pace::Tuned => "tuned",
        }
    }
}

/// The system as the peer wants it, with matrices of type `M`.
pub struct Equations<M: Matrix<T = f64>> {
    system: Rc<dyn System>,
    jacobian: M,
    context: M::C,
    /// A temperature of the pot to stop at, °C.
    level: Option<Level<M>>,
}

/// Pot temperature less a level, °C.
pub struct Level<M: Matrix<T = f64>> {
    level: f64,
    states: usize,
    context: M::C,
}

impl<M: Matrix<T = f64>> Op for Equations<M> {
    type T = f64;
    type V = M::V;
    type M = M;
    type C = M::C;
    fn context(&self) -> &M::C {
        &self.context
    }
    fn nstates(&self) -> usize {
        self.system.start().len()
    }
    fn nout(&self) -> usize {
        self.system.start().len()
    }
    fn nparams(&self) -> usize {
        0
    }
}

impl<M: Matrix<T = f64>> NonLinearOp for Equations<M> {
    fn call_inplace(&self, x: &M::V, _t: f64, y: &mut M::V) {
        y.for_each_batch_host([x], |y, [x], _| self.system.rate(x, y));
    }
}

impl<M: Matrix<T = f64>> NonLinearOpJacobian for Equations<M> {
    fn jac_mul_inplace(&self, _x: &M::V, _t: f64, v: &M::V, y: &mut M::V) {
        self.jacobian.gemv(1.0, v, 0.0, y);
    }
    fn jacobian_inplace(&self, _x: &M::V, _t: f64, y: &mut M) {
        y.copy_from(&self.jacobian);
    }
    fn jacobian_sparsity(&self) -> Option<M::Sparsity> {
        self.jacobian.sparsity().map(|s| MatrixSparsityRef::to_owned(&s))
    }
}

impl<M: Matrix<T = f64>> ConstantOp for Equations<M> {
    fn call_inplace(&self, _t: f64, y: &mut M::V) {
        y.for_each_batch_host([], |y, [], _| y.copy_from_slice(self.system.start()));
    }
}

impl<M: Matrix<T = f64>> Op for Level<M> {
    type T = f64;
    type V = M::V;
    type M = M;
    type C = M::C;
    fn context(&self) -> &M::C {
        &self.context
    }
    fn nstates(&self) -> usize {
        self.states
    }
    fn nout(&self) -> usize {
        1
    }
    fn nparams(&self) -> usize {
        0
    }
}

impl<M: Matrix<T = f64>> NonLinearOp for Level<M> {
    fn call_inplace(&self, x: &M::V, _t: f64, y: &mut M::V) {
        y.for_each_batch_host([x], |y, [x], _| y[0] = x[0] - self.level);
    }
}

impl<'a, M: Matrix<T = f64>> OdeEquationsRef<'a> for Equations<M> {
    type Mass = &'a UnitCallable<M>;
    type Rhs = &'a Equations<M>;
    type Root = &'a Level<M>;
    type Init = &'a Equations<M>;
    type Out = &'a Equations<M>;
    type Reset = &'a Equations<M>;
}

impl<M: Matrix<T = f64>> OdeEquations for Equations<M> {
    fn rhs(&self) -> &Equations<M> {
        self
    }
    fn mass(&self) -> Option<&UnitCallable<M>> {
        None
    }
    fn root(&self) -> Option<&Level<M>> {
        self.level.as_ref()
    }
    fn init(&self) -> &Equations<M> {
        self
    }
    fn set_params(&mut self, _p: &M::V) {}
    fn get_params(&self, _p: &mut M::V) {}
}

/// One problem of the peer with its tolerance, ready to be solved again and again.
pub struct Peer<M: Matrix<T = f64>> {
    problem: OdeSolverProblem<Equations<M>>,
    method: Method,
}

impl<M> Peer<M>
where
    M: Matrix<T = f64> + DefaultSolver,
    M::V: DefaultDenseMatrix<T = f64, C = M::C>,
    for<'b> &'b M::V: VectorRef<M::V>,
    for<'b> &'b M: MatrixRef<M>,
{
    /// `tolerance` is absolute, K; the relative one is a hundredth of it. With a `level` the solution stops there.
    pub fn new(
        system: &Rc<dyn System>,
        method: Method,
        pace: Pace,
        tolerance: f64,
        level: Option<f64>,
    ) -> Result<Self, DiffsolError> {
        let context = M::C::default();
        let n = system.start().len();
        let (indices, values): (Vec<_>, Vec<_>) = system.jacobian().into_iter().map(|(i, j, v)| ((i, j), v)).unzip();
        let jacobian = M::try_from_triplets(n, n, indices, values, context.clone())?;
        let level = level.map(|level| Level { level, states: n, context: context.clone() });
        let equations = Equations { system: Rc::clone(system), jacobian, context, level };
        let mut problem = OdeBuilder::<M>::new().rtol(tolerance / 100.0).atol([tolerance]).build_from_eqn(equations)?;
        problem.ode_options.update_rhs_jacobian_after_steps = usize::MAX;
        if pace == Pace::Tuned {
            let options = &mut problem.ode_options;
            options.max_timestep_growth = Some(4.0);
            options.pi_control_proportional = 0.4;
            match method {
                Method::TrBdf2 => {
                    options.nonlinear_solver_tolerance = 1.0;
                    options.threshold_to_update_jacobian = 1.0;
                }
                Method::Esdirk34 => {
                    options.nonlinear_solver_tolerance = 0.02;
                    options.max_timestep_shrink = Some(0.5);
                }
                Method::Bdf => {
                    options.nonlinear_solver_tolerance = 1.0;
                    options.min_timestep_growth = Some(1.0);
                }
            }
        }
        Ok(Peer { problem, method })
    }

    /// Pot temperatures at the given times, °C; with a level the time in s at which it is reached instead. Symbolic
    /// analysis and every factorisation are included.
    pub fn pot_at(&self, times: &[f64]) -> Result<Vec<f64>, DiffsolError> {
        let mut pot = Vec::with_capacity(times.len());
        match self.solve(times, |all| pot.push(all.get_index(0)))? {
            Some(reached) => Ok(vec![reached]),
            None => Ok(pot),
        }
    }

    /// All temperatures at the given times, °C.
    pub fn states_at(&self, times: &[f64]) -> Result<Vec<Vec<f64>>, DiffsolError> {
        let mut states = Vec::with_capacity(times.len());
        self.solve(times, |all| states.push(all.clone_as_vec()))?;
        Ok(states)
    }

    fn solve(&self, times: &[f64], read: impl FnMut(&M::V)) -> Result<Option<f64>, DiffsolError> {
        let p = &self.problem;
        match self.method {
            Method::TrBdf2 => run(p.tr_bdf2_solver::<M::LS>(p.rk_state(&Tableau::tr_bdf2())?)?, times, read),
            Method::Esdirk34 => run(p.esdirk34_solver::<M::LS>(p.rk_state(&Tableau::esdirk34())?)?, times, read),
            Method::Bdf => run(p.bdf::<M::LS>()?, times, read),
        }
    }
}

/// Steps to the times and reads the interpolated state there; stops early, with the time, where the level is reached.
fn run<'a, M, S>(mut solver: S, times: &[f64], mut read: impl FnMut(&M::V)) -> Result<Option<f64>, DiffsolError>
where
    M: Matrix<T = f64>,
    S: OdeSolverMethod<'a, Equations<M>>,
{
    let problem = solver.problem();
    let mut all = M::V::zeros(problem.eqn.nstates(), problem.context().clone());
    for time in times {
        while solver.state().t < *time {
            if let OdeSolverStopReason::RootFound(at, _) = solver.step()? {
                return Ok(Some(at));
            }
        }
        solver.interpolate_inplace(*time, &mut all)?;
        read(&all);
    }
    Ok(None)
}
