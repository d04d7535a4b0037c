namespace Undersand.Simulation;

/// <summary>Something that lies in or on the sediment.</summary>
/// <param name="Name">What the truth calls it.</param>
/// <param name="Easting">Its middle.</param>
/// <param name="Northing">Its middle.</param>
/// <param name="Burial">Of its top (of its middle, where it is tilted), below the seabed smoothed over 0.5 m, metres.</param>
/// <param name="Material">The class it belongs to.</param>
public abstract record SceneObject(string Name, double Easting, double Northing, double Burial, Material Material)
{
    /// <summary>True for what is there to deceive: it is listed in the truth, apart.</summary>
    public bool IsDecoy { get; init; }
}
