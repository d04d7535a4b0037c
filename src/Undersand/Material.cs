namespace Undersand;

/// <summary>What a buried thing may be made of.</summary>
public enum Material
{
    /// <summary>Iron and steel.</summary>
    Iron,
    /// <summary>Ballast, shot of stone, boulders.</summary>
    Stone,
    /// <summary>Pottery, brick, tile.</summary>
    Ceramic,
    /// <summary>Wood, sound or degraded.</summary>
    Timber,
    /// <summary>Gas in the sediment.</summary>
    Gas,
    /// <summary>Anything else.</summary>
    Other,
}
