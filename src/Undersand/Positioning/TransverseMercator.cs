namespace Undersand.Positioning;

/// <summary>Transverse Mercator of an ellipsoid by the Krüger series to the sixth power of the third flattening.</summary>
/// <remarks>
/// After Krüger (1912) as extended by Karney (2011), “Transverse Mercator with an accuracy of a few nanometers”, J. Geodesy 85, 475–485:
/// equations 7–14 forward, 35 and 36 the coefficients, 24 and 25 convergence and scale; the inverse latitude by Newton's method, equations 19–21.
/// Against PROJ the difference is below 0.1 mm everywhere within 10° of the central meridian, which the tests hold it to.
/// </remarks>
internal sealed class TransverseMercator
{
    private const int Order = 6;
    private readonly double _eccentricity, _eccentricitySquared, _equatorialRadius, _rectifyingRadius, _originArc;
    private readonly double _centralMeridian, _scale, _falseEasting, _falseNorthing;
    private readonly double[] _alpha, _beta;

    /// <param name="ellipsoid">The ellipsoid.</param>
    /// <param name="projection">Where it touches, in degrees and metres.</param>
    public TransverseMercator(Ellipsoid ellipsoid, ProjectionParameters projection)
    {
        double f = 1 / ellipsoid.InverseFlattening, n = f / (2 - f), n2 = n * n;
        _equatorialRadius = ellipsoid.SemiMajorAxis;
        _eccentricitySquared = f * (2 - f);
        _eccentricity = Math.Sqrt(_eccentricitySquared);
        _rectifyingRadius = ellipsoid.SemiMajorAxis / (1 + n) * (1 + n2 * (1.0 / 4 + n2 * (1.0 / 64 + n2 / 256)));
        _alpha = Alpha(n);
        _beta = Beta(n);
        _centralMeridian = projection.CentralMeridian;
        _scale = projection.Scale;
        _falseEasting = projection.FalseEasting;
        _falseNorthing = projection.FalseNorthing;
        _originArc = Forward(Math.Tan(Radians(projection.LatitudeOfOrigin)), 0).Xi;
    }

    /// <summary>Easting and northing in metres, the angle from true north to grid north (positive clockwise) and the point scale, of a longitude and latitude in degrees.</summary>
    public (double Easting, double Northing, double Convergence, double Scale) FromGeographic(double longitude, double latitude)
    {
        double lambda = Radians(Math.IEEERemainder(longitude - _centralMeridian, 360)), phi = Radians(latitude);
        var (xi, eta, convergence, scale) = Forward(Math.Tan(phi), lambda);
        double metres = _scale * _rectifyingRadius;
        return (_falseEasting + metres * eta, _falseNorthing + metres * (xi - _originArc), convergence, _scale * scale);
    }

    /// <summary>Longitude and latitude in degrees of an easting and northing in metres.</summary>
    public (double Longitude, double Latitude) ToGeographic(double easting, double northing)
    {
        double metres = _scale * _rectifyingRadius;
        double xi = (northing - _falseNorthing) / metres + _originArc, eta = (easting - _falseEasting) / metres;
        double xiSphere = xi, etaSphere = eta;
        for (int j = 1; j <= Order; j++)
        {
            xiSphere -= _beta[j - 1] * Math.Sin(2 * j * xi) * Math.Cosh(2 * j * eta);
            etaSphere -= _beta[j - 1] * Math.Cos(2 * j * xi) * Math.Sinh(2 * j * eta);
        }

        double sinh = Math.Sinh(etaSphere), cos = Math.Cos(xiSphere);
        double tau = TanLatitude(Math.Sin(xiSphere) / Math.Sqrt(sinh * sinh + cos * cos));
        double longitude = _centralMeridian + Degrees(Math.Atan2(sinh, cos));
        return (Math.IEEERemainder(longitude, 360), Degrees(Math.Atan(tau)));
    }

    // τ is the tangent of the latitude, λ the longitude from the central meridian; primes are on the conformal sphere.
    private (double Xi, double Eta, double Convergence, double Scale) Forward(double tau, double lambda)
    {
        double tauPrime = ConformalTan(tau), cosLambda = Math.Cos(lambda), hypot = Math.Sqrt(tauPrime * tauPrime + cosLambda * cosLambda);
        double xiSphere = Math.Atan2(tauPrime, cosLambda), etaSphere = Math.Asinh(Math.Sin(lambda) / hypot);
        double xi = xiSphere, eta = etaSphere, p = 1, q = 0;
        for (int j = 1; j <= Order; j++)
        {
            double sin = Math.Sin(2 * j * xiSphere), cos = Math.Cos(2 * j * xiSphere);
            double sinh = Math.Sinh(2 * j * etaSphere), cosh = Math.Cosh(2 * j * etaSphere);
            xi += _alpha[j - 1] * sin * cosh;
            eta += _alpha[j - 1] * cos * sinh;
            p += 2 * j * _alpha[j - 1] * cos * cosh;
            q += 2 * j * _alpha[j - 1] * sin * sinh;
        }

        double convergence = Math.Atan2(tauPrime * Math.Sin(lambda), cosLambda * Math.Sqrt(1 + tauPrime * tauPrime)) + Math.Atan2(q, p);
        double sinPhiSquared = tau * tau / (1 + tau * tau);
        double sphereScale = Math.Sqrt(1 - _eccentricitySquared * sinPhiSquared) * Math.Sqrt(1 + tau * tau) / hypot;
        return (xi, eta, convergence, sphereScale * _rectifyingRadius / _equatorialRadius * Math.Sqrt(p * p + q * q));
    }

    private double ConformalTan(double tau)
    {
        double sigma = Math.Sinh(_eccentricity * Math.Atanh(_eccentricity * tau / Math.Sqrt(1 + tau * tau)));
        return tau * Math.Sqrt(1 + sigma * sigma) - sigma * Math.Sqrt(1 + tau * tau);
    }

    // Converges in three steps at the most (Karney 2011, after equation 21); five cost nothing.
    private double TanLatitude(double tauPrime)
    {
        double tau = tauPrime;
        for (int step = 0; step < 5; step++)
        {
            double trial = ConformalTan(tau);
            tau += (tauPrime - trial) / Math.Sqrt(1 + trial * trial)
                * (1 + (1 - _eccentricitySquared) * tau * tau) / ((1 - _eccentricitySquared) * Math.Sqrt(1 + tau * tau));
        }

        return tau;
    }

    // Karney (2011), equation 35.
    internal static double[] Alpha(double n) =>
    [
        n * (1.0 / 2 + n * (-2.0 / 3 + n * (5.0 / 16 + n * (41.0 / 180 + n * (-127.0 / 288 + n * 7891 / 37800))))),
        n * n * (13.0 / 48 + n * (-3.0 / 5 + n * (557.0 / 1440 + n * (281.0 / 630 - n * 1983433 / 1935360)))),
        n * n * n * (61.0 / 240 + n * (-103.0 / 140 + n * (15061.0 / 26880 + n * 167603 / 181440))),
        n * n * n * n * (49561.0 / 161280 + n * (-179.0 / 168 + n * 6601661 / 7257600)),
        n * n * n * n * n * (34729.0 / 80640 - n * 3418889 / 1995840),
        n * n * n * n * n * n * 212378941 / 319334400,
    ];

    // Karney (2011), equation 36.
    internal static double[] Beta(double n) =>
    [
        n * (1.0 / 2 + n * (-2.0 / 3 + n * (37.0 / 96 + n * (-1.0 / 360 + n * (-81.0 / 512 + n * 96199 / 604800))))),
        n * n * (1.0 / 48 + n * (1.0 / 15 + n * (-437.0 / 1440 + n * (46.0 / 105 - n * 1118711 / 3870720)))),
        n * n * n * (17.0 / 480 + n * (-37.0 / 840 + n * (-209.0 / 4480 + n * 5569 / 90720))),
        n * n * n * n * (4397.0 / 161280 + n * (-11.0 / 504 - n * 830251 / 7257600)),
        n * n * n * n * n * (4583.0 / 161280 - n * 108847 / 3991680),
        n * n * n * n * n * n * 20648693 / 638668800,
    ];

    private static double Radians(double degrees) => degrees * (Math.PI / 180);

    private static double Degrees(double radians) => radians * (180 / Math.PI);
}
