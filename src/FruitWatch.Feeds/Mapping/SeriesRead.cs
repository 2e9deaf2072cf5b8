using FruitWatch.Feeds.Describing;

namespace FruitWatch.Feeds.Mapping;

/// <summary>How a series was read, for questions about its unit.</summary>
/// <param name="Name">Its name in the description.</param>
/// <param name="Quantity">What of a day is made from it.</param>
/// <param name="Unit">The unit it was read in.</param>
/// <param name="Declared">The answer itself declares this unit; then only the scale can be wrong.</param>
/// <param name="Scale">What its numbers were multiplied by.</param>
internal sealed record SeriesRead(string Name, Quantity Quantity, Unit Unit, bool Declared, double Scale);
