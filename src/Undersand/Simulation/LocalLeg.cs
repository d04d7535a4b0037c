namespace Undersand.Simulation;

/// <summary>A leg to places near one whose leg is known: time to the second order of the distance, by the two curvatures of the wavefront; amplitude and direction to the first.</summary>
/// <remarks>At 7 cm and a path of 1.5 m what is left out is below 0.1 µs.</remarks>
internal readonly struct LocalLeg
{
    private readonly Leg _leg;
    private readonly GridPoint _middle;
    private readonly double _slowness, _curveIn, _curveAcross, _levelE, _levelN, _inverseLength;

    public LocalLeg(Leg leg, GridPoint middle, double c1, double c2)
    {
        (_leg, _middle) = (leg, middle);
        bool buried = leg.SedimentPath > 0;
        double bend = buried ? c1 / c2 : 1, ratio = leg.CosineInSediment / leg.CosineInWater;
        _slowness = 1 / (buried ? c2 : c1);
        _curveAcross = 1 / (leg.SedimentPath + leg.WaterPath * bend);
        _curveIn = 1 / (leg.SedimentPath + leg.WaterPath * bend * ratio * ratio);
        double level = Math.Sqrt(leg.East * leg.East + leg.North * leg.North);
        (_levelE, _levelN) = level > 1e-9 ? (leg.East / level, leg.North / level) : (1, 0);
        _inverseLength = Math.Sqrt(_curveIn * _curveAcross);
    }

    /// <summary>The leg to a place near by.</summary>
    public Leg To(GridPoint place)
    {
        double e = place.Easting - _middle.Easting, n = place.Northing - _middle.Northing, d = place.Depth - _middle.Depth;
        double on = e * _leg.East + n * _leg.North + d * _leg.Down;
        double across = n * _levelE - e * _levelN, pe = e - on * _leg.East, pn = n - on * _leg.North, pd = d - on * _leg.Down;
        double inSquared = Math.Max(0, pe * pe + pn * pn + pd * pd - across * across);
        // Beyond the middle the wavefront has run on by "on", and is the flatter for it.
        double later = on + 0.5 * (inSquared * _curveIn * (1 - on * _curveIn) + across * across * _curveAcross * (1 - on * _curveAcross));
        double scale = 1 - on * _inverseLength;
        return _leg with
        {
            Time = _leg.Time + later * _slowness,
            SedimentPath = Math.Max(0, _leg.SedimentPath + (_leg.SedimentPath > 0 ? later : 0)),
            East = _leg.East + pe * _curveAcross,
            North = _leg.North + pn * _curveAcross,
            Down = _leg.Down + pd * _curveAcross,
            Inward = _leg.Inward * scale,
            Outward = _leg.Outward * scale,
        };
    }
}
