namespace Undersand.Tests;
public class PlaceholderTests { [Fact] public void Runs() => Assert.Equal(4, 2 + 2); }
