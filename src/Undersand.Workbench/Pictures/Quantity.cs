using Undersand.Runs.Reporting;

namespace Undersand.Workbench.Pictures;

/// <summary>Something that is shown in colours: one quantity has one colour map and one scale wherever it is seen.</summary>
/// <param name="Name">In addresses.</param>
/// <param name="Title">For people, with its unit where that is no length.</param>
/// <param name="Meaning">One sentence.</param>
/// <param name="Map">Its colours.</param>
/// <param name="Low">Value of the first colour.</param>
/// <param name="High">Value of the last colour.</param>
/// <param name="Downwards">Whether greater values are deeper, so that the legend reads downwards.</param>
/// <param name="Measure">“depth” below the water surface, another “length”, both in metres; null for what is neither.</param>
internal sealed record Quantity(string Name, string Title, string Meaning, ColourMap Map, double Low, double High, bool Downwards, string? Measure = null)
{
    /// <summary>The entry for a value; 0 is transparent and means no data.</summary>
    public byte IndexOf(double value) => double.IsNaN(value) ? (byte)0 : (byte)Math.Max(1, ColourMap.IndexOf(value, Low, High));
}
