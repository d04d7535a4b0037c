namespace Undersand.Acoustics;

/// <summary>What a sphere is made of, as far as sound cares.</summary>
public enum SphereKind
{
    /// <summary>Immovable and incompressible.</summary>
    Rigid,
    /// <summary>No pressure at its surface.</summary>
    Soft,
    /// <summary>A fluid: gas, weak tissue, soft sediment.</summary>
    Fluid,
    /// <summary>An elastic solid that carries shear.</summary>
    Elastic,
}
