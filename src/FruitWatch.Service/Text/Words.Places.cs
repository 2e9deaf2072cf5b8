namespace FruitWatch.Service.Text;

// Forms in which sites and beds are made and changed.
internal abstract partial class Words
{
    public abstract string BedEdit { get; }
}
