namespace Undersand.Storage.GeoPackage;

/// <summary>Connected cells of one class, and the corners of their outline: the outer ring anticlockwise, then the holes clockwise, each closed.</summary>
internal sealed record Region(int Class, int Cells, IReadOnlyList<IReadOnlyList<(int X, int Y)>> Rings);

/// <summary>Turns a grid of classes into the outlines of its connected regions, valid polygons in the sense of OGC simple features.</summary>
/// <remarks>
/// Cells are connected across edges, not corners. Every edge between a region and something else is walked once with the region on its left; where two
/// cells meet at a corner only, the walk turns left and stays with its cell. A ring that comes through a corner twice is cut there in two, so that rings touch
/// themselves nowhere. The time is linear in the number of cells.
/// </remarks>
internal static class RegionOutlines
{
    // East, north, west, south: one to the left of another is the next.
    private static readonly (int X, int Y)[] Steps = [(1, 0), (0, 1), (-1, 0), (0, -1)];

    /// <param name="classes">Class of each cell [x, y]; 0 belongs to no region.</param>
    public static IEnumerable<Region> Trace(int[,] classes)
    {
        int[,] labels = Label(classes, out List<(int Class, int Cells)> regions);
        var rings = new List<IReadOnlyList<(int X, int Y)>>[regions.Count];
        for (int i = 0; i < rings.Length; i++)
            rings[i] = [];
        var walked = new bool[classes.GetLength(0) + 1, classes.GetLength(1) + 1, 4];
        for (int y = 0; y <= classes.GetLength(1); y++)
            for (int x = 0; x <= classes.GetLength(0); x++)
                for (int direction = 0; direction < 4; direction++)
                    if (!walked[x, y, direction] && EdgeOwner(labels, x, y, direction) is int label and > 0)
                        rings[label - 1].AddRange(Simple(Walk(labels, walked, x, y, direction)));
        return regions.Select((r, i) => new Region(r.Class, r.Cells, [.. rings[i].OrderBy(ring => SignedArea(ring) > 0 ? 0 : 1)]));
    }

    private static int[,] Label(int[,] classes, out List<(int Class, int Cells)> regions)
    {
        int nx = classes.GetLength(0), ny = classes.GetLength(1);
        var labels = new int[nx, ny];
        var open = new Stack<(int X, int Y)>();
        regions = [];
        for (int y = 0; y < ny; y++)
        {
            for (int x = 0; x < nx; x++)
            {
                if (classes[x, y] == 0 || labels[x, y] != 0)
                    continue;
                int cells = 0;
                labels[x, y] = regions.Count + 1;
                open.Push((x, y));
                while (open.TryPop(out var cell))
                {
                    cells++;
                    foreach (var step in Steps)
                    {
                        int u = cell.X + step.X, v = cell.Y + step.Y;
                        if (u < 0 || v < 0 || u >= nx || v >= ny || labels[u, v] != 0 || classes[u, v] != classes[x, y])
                            continue;
                        labels[u, v] = regions.Count + 1;
                        open.Push((u, v));
                    }
                }

                regions.Add((classes[x, y], cells));
            }
        }

        return labels;
    }

    // The region whose outline the edge from a corner in a direction belongs to: that on its left, if another is on its right.
    private static int EdgeOwner(int[,] labels, int x, int y, int direction)
    {
        var (left, right) = direction switch
        {
            0 => ((x, y), (x, y - 1)),
            1 => ((x - 1, y), (x, y)),
            2 => ((x - 1, y - 1), (x - 1, y)),
            _ => ((x, y - 1), (x - 1, y - 1)),
        };
        int label = At(labels, left);
        return label != At(labels, right) ? label : 0;
    }

    private static int At(int[,] labels, (int X, int Y) cell) =>
        cell.X < 0 || cell.Y < 0 || cell.X >= labels.GetLength(0) || cell.Y >= labels.GetLength(1) ? 0 : labels[cell.X, cell.Y];

    private static List<(int X, int Y)> Walk(int[,] labels, bool[,,] walked, int x, int y, int direction)
    {
        int label = EdgeOwner(labels, x, y, direction);
        var corners = new List<(int X, int Y)>();
        while (!walked[x, y, direction])
        {
            walked[x, y, direction] = true;
            corners.Add((x, y));
            (x, y) = (x + Steps[direction].X, y + Steps[direction].Y);
            foreach (int turn in new[] { 1, 0, 3 })
            {
                int next = (direction + turn) % 4;
                if (EdgeOwner(labels, x, y, next) != label)
                    continue;
                direction = next;
                break;
            }
        }

        return corners;
    }

    // Cuts a walk where it comes through a corner again, and leaves out corners on a straight line.
    private static IEnumerable<IReadOnlyList<(int X, int Y)>> Simple(List<(int X, int Y)> walk)
    {
        var path = new List<(int X, int Y)>();
        var place = new Dictionary<(int X, int Y), int>();
        foreach (var corner in walk)
        {
            if (place.TryGetValue(corner, out int start))
            {
                yield return Closed(path.GetRange(start, path.Count - start));
                foreach (var gone in path.Skip(start))
                    place.Remove(gone);
                path.RemoveRange(start, path.Count - start);
            }

            place[corner] = path.Count;
            path.Add(corner);
        }

        yield return Closed(path);
    }

    private static List<(int X, int Y)> Closed(List<(int X, int Y)> ring)
    {
        var corners = new List<(int X, int Y)>();
        for (int i = 0; i < ring.Count; i++)
        {
            var (a, b, c) = (ring[(i + ring.Count - 1) % ring.Count], ring[i], ring[(i + 1) % ring.Count]);
            if ((b.X - a.X) * (c.Y - b.Y) != (b.Y - a.Y) * (c.X - b.X))
                corners.Add(b);
        }

        corners.Add(corners[0]);
        return corners;
    }

    private static long SignedArea(IReadOnlyList<(int X, int Y)> ring)
    {
        long twice = 0;
        for (int i = 1; i < ring.Count; i++)
            twice += (long)ring[i - 1].X * ring[i].Y - (long)ring[i].X * ring[i - 1].Y;
        return twice;
    }
}
