namespace Undersand.Storage.GeoTiff;

/// <summary>What stands for four values in the next coarser picture of a map.</summary>
public enum OverviewRule
{
    /// <summary>Their mean; values without data don't count.</summary>
    Mean,
    /// <summary>The greatest of them, so that something small isn't lost from afar.</summary>
    Greatest,
}
