namespace Undersand;

/// <summary>One independent view of the voxels: one survey line, and one disjoint group of the pings and receivers in its aperture.</summary>
/// <param name="Index">From 0, within the survey.</param>
/// <param name="Line">Index of the survey line.</param>
/// <param name="Group">Index of the aperture's group within the line.</param>
/// <param name="Name">For people: “line-03.sgy, astern”.</param>
public sealed record Look(int Index, int Line, int Group, string Name);
