# Milliseconds a fit of statsmodels' UnobservedComponents: smooth trend with known noise (variance 1), the slope's variance is the one
# unknown.
import sys
import time
import warnings

import numpy as np
from statsmodels.tsa.statespace.structural import UnobservedComponents

warnings.simplefilter("ignore")
series = np.loadtxt(sys.stdin)


def fit(values):
    model = UnobservedComponents(values, "smooth trend")
    with model.fix_params({"sigma2.irregular": 1.0}):
        model.fit(disp=False)


fit(series[0])
start = time.perf_counter()
for values in series:
    fit(values)
print(1000 * (time.perf_counter() - start) / len(series))
