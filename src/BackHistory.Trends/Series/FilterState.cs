namespace BackHistory.Trends.Series;

/// <summary>What the filter carries: mean x and covariance P given the regressors, the regressors' effects E, and their triangular
/// system.</summary>
internal sealed class FilterState
{
    readonly DriftProcess _process;
    readonly int _size,
        _columns,
        _start,
        _annual;
    readonly double[] _x,
        _p,
        _e,
        _gain,
        _row;
    readonly TriangularSolver _triangle;
    double _logF;
    int _count;

    internal FilterState(int size, int people, DriftProcess process)
    {
        _process = process;
        _size = size;
        _start = process.WithSlope ? 2 : 1;
        _annual = _start + people;
        _columns = _annual + (process.Annual ? 2 : 0);
        _x = new double[size];
        _p = new double[size * size];
        _e = new double[size * _columns];
        _gain = new double[size];
        _row = new double[_columns];
        _triangle = new(_columns);
        _e[DiffuseFilter.Level * _columns] = 1;
        if (process.WithSlope)
            _e[DiffuseFilter.Slope * _columns + 1] = 1;
    }

    internal void Advance(double days)
    {
        if (days <= 0)
            return;
        const int l = DiffuseFilter.Level,
            s = DiffuseFilter.Slope;
        _x[l] += days * _x[s];
        for (var c = 0; c < _columns; c++)
            _e[l * _columns + c] += days * _e[s * _columns + c];
        for (var j = 0; j < _size; j++)
            _p[l * _size + j] += days * _p[s * _size + j];
        for (var j = 0; j < _size; j++)
            _p[j * _size + l] += days * _p[j * _size + s];
        var q = _process.Q;
        _p[l * _size + l] += q * days * days * days / 3 + _process.LevelQ * days;
        _p[l * _size + s] += q * days * days / 2;
        _p[s * _size + l] += q * days * days / 2;
        _p[s * _size + s] += q * days;
    }

    /// <summary>A day's shared offset begins anew: nothing is known of it but its variance.</summary>
    internal void NewVisit(double variance)
    {
        const int v = DiffuseFilter.Visit;
        _x[v] = 0;
        for (var c = 0; c < _columns; c++)
            _e[v * _columns + c] = 0;
        for (var j = 0; j < _size; j++)
            _p[v * _size + j] = _p[j * _size + v] = 0;
        _p[v * _size + v] = variance;
    }

    internal void Freeze(int which)
    {
        for (var part = 0; part < 2; part++)
        {
            var copy = DiffuseFilter.FirstFrozen + 2 * which + part;
            _x[copy] = _x[part];
            Array.Copy(_e, part * _columns, _e, copy * _columns, _columns);
            for (var j = 0; j < _size; j++)
                _p[copy * _size + j] = _p[part * _size + j];
            for (var j = 0; j < _size; j++)
                _p[j * _size + copy] = _p[j * _size + part];
        }
    }

    internal void Observe(double day, double y, double variance, int person)
    {
        const int l = DiffuseFilter.Level,
            v = DiffuseFilter.Visit;
        for (var j = 0; j < _size; j++)
            _gain[j] = _p[l * _size + j] + _p[v * _size + j];
        var f = _gain[l] + _gain[v] + variance;
        var innovation = y - _x[l] - _x[v];
        for (var c = 0; c < _columns; c++)
            _row[c] = _e[l * _columns + c] + _e[v * _columns + c];
        if (person != VisitData.Nobody)
            _row[_start + person] += 1;
        if (_process.Annual)
            (_row[_annual], _row[_annual + 1]) = Add(_row[_annual], _row[_annual + 1], DriftProcess.PhaseOf(day));

        for (var i = 0; i < _size; i++)
        {
            var k = _gain[i] / f;
            if (k == 0)
                continue;
            _x[i] += k * innovation;
            for (var c = 0; c < _columns; c++)
                _e[i * _columns + c] -= k * _row[c];
            for (var j = 0; j < _size; j++)
                _p[i * _size + j] -= k * _gain[j];
        }
        _logF += Math.Log(f);
        _count++;
        var scale = 1 / Math.Sqrt(f);
        for (var c = 0; c < _columns; c++)
            _row[c] *= scale;
        _triangle.Add(_row, innovation * scale);
    }

    static (double, double) Add(double a, double b, (double Cos, double Sin) phase) => (a + phase.Cos, b + phase.Sin);

    internal Posterior Finish(double now, VisitData data)
    {
        var people = _annual - _start;
        for (var p = 0; p < people; p++)
        {
            Array.Clear(_row);
            _row[_start + p] = 1 / Math.Sqrt(data.PersonVariance);
            _triangle.Add(_row, 0);
        }
        var logLikelihood =
            -0.5
            * (
                _logF
                + _triangle.ResidualSumOfSquares
                + 2 * _triangle.LogDeterminant
                + people * Math.Log(Math.Max(data.PersonVariance, double.Epsilon))
                + (_count - _columns + people) * Math.Log(2 * Math.PI)
            );
        var profile = -0.5 * (_logF + _triangle.ResidualSumOfSquares + _count * Math.Log(2 * Math.PI));
        return new(now, _process, _x, _p, _e, _size, _triangle, data.Centre, logLikelihood, profile)
        {
            AnnualColumn = _process.Annual ? _annual : -1,
            PeopleColumn = _start,
        };
    }
}
