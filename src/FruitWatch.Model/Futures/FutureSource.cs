namespace FruitWatch.Model.Futures;

/// <summary>What the first days of the futures were made from.</summary>
public enum FutureSource : byte
{
    /// <summary>The members of the feed's own ensemble.</summary>
    Ensemble,

    /// <summary>A single forecast, dressed with the errors that such forecasts have.</summary>
    Dressed,

    /// <summary>No forecast at all: past years from today on.</summary>
    PastYears,
}
