namespace Undersand.Imaging;

/// <summary>A place under the seabed.</summary>
/// <param name="Easting">Metres.</param>
/// <param name="Northing">Metres.</param>
/// <param name="SeabedDepth">Depth of the seabed there below the water surface, metres.</param>
/// <param name="Burial">Below that seabed, metres.</param>
public readonly record struct BuriedPlace(double Easting, double Northing, double SeabedDepth, double Burial);
