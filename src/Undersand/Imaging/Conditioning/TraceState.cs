namespace Undersand.Imaging.Conditioning;

/// <summary>What became of a trace; the first that applies.</summary>
public enum TraceState : byte
{
    /// <summary>Used.</summary>
    Good,
    /// <summary>Its receiver is dead, by its header or by its level.</summary>
    Dead,
    /// <summary>Silent.</summary>
    DropOut,
    /// <summary>Too many samples at the recording's limit.</summary>
    Clipped,
    /// <summary>Its ping carries a burst of another sound.</summary>
    Burst,
    /// <summary>Its ping shows no seabed where the pings around have one: a lost trigger, a cloud of bubbles.</summary>
    NoEcho,
}
