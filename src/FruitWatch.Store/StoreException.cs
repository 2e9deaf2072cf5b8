namespace FruitWatch.Store;

/// <summary>The store cannot be used as it stands. The message is a sentence for the operator: what is wrong and what to do.</summary>
public sealed class StoreException : Exception
{
    /// <summary>With a sentence for the operator.</summary>
    public StoreException(string message)
        : base(message)
    {
    }

    /// <summary>With a sentence for the operator and what caused it.</summary>
    public StoreException(string message, Exception innerException)
        : base(message, innerException)
    {
    }
}
