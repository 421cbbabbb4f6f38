"""The unrolled wall pulled lengthwise, by an open finite-element library: plane stress, sides that stay straight."""

import numpy as np
from skfem import Basis, BilinearForm, ElementTriP2, ElementVector, condense, solve
from skfem.helpers import ddot, sym_grad, trace
from thermal.holes.plate_fem import half_cell

POISSON = 0.3


def extra_when_pulled(*pattern, fine=1.0, **more):
    """Extra length of plain wall that stretches as much as the holes add, m."""
    mesh, long, half = half_cell(*pattern, fine=fine, **more)
    basis = Basis(mesh, ElementVector(ElementTriP2()))
    shear, plane = 1 / (2 * (1 + POISSON)), POISSON / (1 - POISSON**2)  # modulus 1

    @BilinearForm
    def stiffness(u, v, _):
        return 2 * shear * ddot(sym_grad(u), sym_grad(v)) + plane * trace(sym_grad(u)) * trace(sym_grad(v))

    matrix = stiffness.assemble(basis)
    low = basis.get_dofs(lambda x: x[1] < 1e-9).all("u^2")
    high = basis.get_dofs(lambda x: x[1] > long - 1e-9).all("u^2")
    left = basis.get_dofs(lambda x: x[0] < 1e-9).all("u^1")
    right = basis.get_dofs(lambda x: x[0] > half - 1e-9).all("u^1")

    def run(pulled, widened):
        x = basis.zeros()
        x[high], x[right] = pulled, widened
        return solve(*condense(matrix, x=x, D=np.unique(np.concatenate([low, high, left, right]))))

    a, b = run(1.0, 0.0), run(0.0, 1.0)
    energy = np.array([[a @ (matrix @ a), a @ (matrix @ b)], [b @ (matrix @ a), b @ (matrix @ b)]])
    pull = energy[0, 0] - energy[0, 1] ** 2 / energy[1, 1]  # no force on the sides as a whole
    return half / pull - long
